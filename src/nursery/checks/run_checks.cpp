#include "nursery/checks/run_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

using Json = nlohmann::json;

const std::map<std::string, Computation>& all_computations() {
  static const std::map<std::string, Computation> all = [] {
    std::map<std::string, Computation> result;
    for (const Computations& topic : {air_computations(), calendar_computations(), growth_computations(),
                                      mix_medium_computations(), planning_computations(), mix_solution_computations(),
                                      season_computations(), sun_computations(), weather_computations()})
      result.insert(topic.begin(), topic.end());
    return result;
  }();
  return all;
}

std::vector<print::Figure> expected_figures(const Json& expected) {
  std::vector<print::Figure> figures;
  if (expected.is_array()) {
    for (const Json& entry : expected) {
      const auto inner = expected_figures(entry);
      figures.insert(figures.end(), inner.begin(), inner.end());
    }
  } else if (expected.is_string()) {
    figures.emplace_back(expected.get<std::string>());
  } else {
    figures.emplace_back(expected.is_number() ? expected.get<double>() : std::nan(""));
  }
  return figures;
}

void read_tolerance(const Json& tolerance, print::CheckedFigures& figures) {
  const Json& pair =
      tolerance.contains(figures.name) ? tolerance.at(figures.name) : tolerance.value("*", Json::object());
  figures.abs = pair.value("abs", 0.0);
  figures.rel = pair.value("rel", 0.0);
}

bool holds(const print::Figure& expected, const print::Figure& computed, double abs, double rel) {
  const double* wanted = std::get_if<double>(&expected);
  const double* found = std::get_if<double>(&computed);
  if (!wanted || !found) return expected == computed;
  return std::isfinite(*wanted) && std::isfinite(*found) &&
         std::fabs(*found - *wanted) <= abs + rel * std::fabs(*wanted);
}

bool all_hold(const print::CheckedFigures& figures) {
  if (figures.expected.empty() || figures.expected.size() != figures.computed.size()) return false;
  for (std::size_t i = 0; i < figures.expected.size(); ++i)
    if (!holds(figures.expected[i], figures.computed[i], figures.abs, figures.rel)) return false;
  return true;
}

Computed compute(const std::string& name, const Json& inputs, const ReadText& beside) {
  const auto found = all_computations().find(name);
  if (found == all_computations().end()) throw CannotCompute(fmt::format("there is no computation \"{}\"", name));
  return found->second(CheckInputs(inputs, beside));
}

print::Check run_case(const Json& json, const std::string& topic, const ReadText& beside) {
  print::Check check;
  check.id = json.at("id").get<std::string>();
  check.topic = topic;
  check.title = json.at("title").get<std::string>();
  check.source = json.at("source").get<std::string>();
  check.how_known = json.at("how_known").get<std::string>();
  check.note = json.value("note", "");
  for (const auto& [name, expected] : json.at("expected").items()) {
    print::CheckedFigures figures;
    figures.name = name;
    figures.expected = expected_figures(expected);
    read_tolerance(json.at("tolerance"), figures);
    check.figures.push_back(std::move(figures));
  }
  try {
    const Computed computed = compute(json.at("compute").get<std::string>(), json.at("inputs"), beside);
    for (print::CheckedFigures& figures : check.figures) {
      const auto found = computed.figures().find(figures.name);
      if (found != computed.figures().end()) figures.computed = found->second;
      figures.holds = all_hold(figures);
    }
  } catch (const CannotCompute& error) {
    check.problem = error.what();
  }
  check.holds =
      check.problem.empty() && !check.figures.empty() &&
      std::all_of(check.figures.begin(), check.figures.end(), [](const auto& figures) { return figures.holds; });
  return check;
}

}  // namespace

bool CheckInputs::has(const char* name) const { return inputs_.contains(name); }

const Json& CheckInputs::input(const char* name) const {
  if (!inputs_.contains(name)) throw CannotCompute(std::string("the input is missing: ") + name);
  return inputs_.at(name);
}

double CheckInputs::number(const char* name) const {
  const Json& value = input(name);
  if (!value.is_number()) throw CannotCompute(std::string("the input is not a number: ") + name);
  return value.get<double>();
}

int CheckInputs::whole(const char* name) const {
  const Json& value = input(name);
  if (!value.is_number_integer()) throw CannotCompute(std::string("the input is not a whole number: ") + name);
  return value.get<int>();
}

std::string CheckInputs::text(const char* name) const {
  const Json& value = input(name);
  if (!value.is_string()) throw CannotCompute(std::string("the input is not text: ") + name);
  return value.get<std::string>();
}

Date CheckInputs::date(const char* name) const {
  const auto date = parse_iso_date(text(name));
  if (!date) throw CannotCompute(std::string("the input is not a date: ") + name);
  return *date;
}

std::vector<double> CheckInputs::numbers(const char* name) const {
  const Json& value = input(name);
  if (value.is_number()) return {value.get<double>()};
  std::vector<double> result;
  for (const Json& entry : value) {
    if (!entry.is_number()) throw CannotCompute(std::string("the input is not a list of numbers: ") + name);
    result.push_back(entry.get<double>());
  }
  return result;
}

std::vector<std::string> CheckInputs::texts(const char* name) const {
  const Json& value = input(name);
  if (value.is_string()) return {value.get<std::string>()};
  std::vector<std::string> result;
  for (const Json& entry : value) {
    if (!entry.is_string()) throw CannotCompute(std::string("the input is not a list of words: ") + name);
    result.push_back(entry.get<std::string>());
  }
  return result;
}

Text CheckInputs::file(const char* name) const { return value_or_give_up(beside_(text(name))); }

Result<std::vector<print::Check>> run_checks(const CheckFiles& files) {
  std::vector<print::Check> checks;
  std::set<std::string> ids;
  for (const auto& [name, text] : files.topics) {
    try {
      const Json data = Json::parse(text.text);
      const auto topic = data.at("topic").get<std::string>();
      for (const Json& json : data.at("cases")) {
        checks.push_back(run_case(json, topic, files.beside));
        if (!ids.insert(checks.back().id).second)
          return Error{.problem = "two published checks have the id " + checks.back().id, .file = text.file};
      }
    } catch (const Json::exception& error) {
      const std::string after = checks.empty() ? "" : " (the last case read was " + checks.back().id + ")";
      return Error{.problem = fmt::format("not a data file of published checks: {}{}", error.what(), after),
                   .allowed = "the form described in docs/checks.md",
                   .file = text.file};
    }
  }
  return checks;
}

}  // namespace strikebed::nursery
