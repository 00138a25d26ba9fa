#include "nursery/checks/run_checks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>
#include <type_traits>

#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

using Json = nlohmann::ordered_json;

const std::map<std::string, Computation>& all_computations() {
  static const std::map<std::string, Computation> all = [] {
    std::map<std::string, Computation> result;
    for (const Computations& topic :
         {air_computations(), calendar_computations(), fitting_computations(), growth_computations(),
          mix_medium_computations(), planning_computations(), mix_solution_computations(), season_computations(),
          sun_computations(), weather_computations()})
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

/// A number of an object; 0 when it is not there.
double number_in(const Json& object, const char* key) {
  return object.contains(key) && object.at(key).is_number() ? object.at(key).get<double>() : 0.0;
}

/// Those of the figures, else those under "*".
void read_tolerance(const Json& tolerance, print::CheckedFigures& figures) {
  const std::string key = tolerance.contains(figures.name) ? figures.name : "*";
  if (!tolerance.contains(key)) return;
  figures.abs = number_in(tolerance.at(key), "abs");
  figures.rel = number_in(tolerance.at(key), "rel");
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

Result<Computed> compute(const std::string& name, const Json& inputs, const ReadText& beside) {
  const auto found = all_computations().find(name);
  if (found == all_computations().end()) return Error{.problem = fmt::format("there is no computation \"{}\"", name)};
  const CheckInputs in(inputs, beside);
  Computed computed = found->second(in);
  if (in.given_up()) return Error{.problem = in.problem()};
  return computed;
}

/// What every case must have and has not, if anything.
std::string missing_in(const Json& json) {
  for (const char* key : {"id", "title", "source", "how_known", "compute"}) {
    if (!json.contains(key) || !json.at(key).is_string()) return fmt::format("the text \"{}\"", key);
  }
  for (const char* key : {"inputs", "expected", "tolerance"}) {
    if (!json.contains(key) || !json.at(key).is_object()) return fmt::format("the object \"{}\"", key);
  }
  return "";
}

/// `json` has all that a case must have.
print::Check run_case(const Json& json, const std::string& topic, const ReadText& beside) {
  print::Check check;
  check.id = json.at("id").get<std::string>();
  check.topic = topic;
  check.title = json.at("title").get<std::string>();
  check.source = json.at("source").get<std::string>();
  check.how_known = json.at("how_known").get<std::string>();
  if (json.contains("note") && json.at("note").is_string()) check.note = json.at("note").get<std::string>();
  for (const auto& [name, expected] : json.at("expected").items()) {
    print::CheckedFigures figures;
    figures.name = name;
    figures.expected = expected_figures(expected);
    read_tolerance(json.at("tolerance"), figures);
    check.figures.push_back(std::move(figures));
  }
  const auto computed = compute(json.at("compute").get<std::string>(), json.at("inputs"), beside);
  if (!computed) check.problem = computed.error().problem;
  for (print::CheckedFigures& figures : check.figures) {
    if (!computed) break;
    const auto found = computed->figures().find(figures.name);
    if (found != computed->figures().end()) figures.computed = found->second;
    figures.holds = all_hold(figures);
  }
  check.holds =
      check.problem.empty() && !check.figures.empty() &&
      std::all_of(check.figures.begin(), check.figures.end(), [](const auto& figures) { return figures.holds; });
  return check;
}

}  // namespace

Computed CheckInputs::give_up(const std::string& reason) const {
  if (problem_.empty()) problem_ = reason;
  return {};
}

bool CheckInputs::has(const char* name) const { return inputs_.contains(name); }

const Json* CheckInputs::input(const char* name) const {
  if (inputs_.contains(name)) return &inputs_.at(name);
  give_up(std::string("the input is missing: ") + name);
  return nullptr;
}

double CheckInputs::number(const char* name) const {
  const Json* value = input(name);
  if (value && value->is_number()) return value->get<double>();
  give_up(std::string("the input is not a number: ") + name);
  return 1;
}

int CheckInputs::whole(const char* name) const {
  const Json* value = input(name);
  if (value && value->is_number_integer()) return value->get<int>();
  give_up(std::string("the input is not a whole number: ") + name);
  return 1;
}

std::string CheckInputs::text(const char* name) const {
  const Json* value = input(name);
  if (value && value->is_string()) return value->get<std::string>();
  give_up(std::string("the input is not text: ") + name);
  return "";
}

Date CheckInputs::date(const char* name) const {
  const auto date = parse_iso_date(text(name));
  if (date) return *date;
  give_up(std::string("the input is not a date: ") + name);
  return make_date(2000, 1, 1);
}

template <class T>
std::vector<T> CheckInputs::list(const char* name, T instead, const char* of_what) const {
  const auto right = [](const Json& entry) {
    return std::is_same_v<T, double> ? entry.is_number() : entry.is_string();
  };
  std::vector<T> entries;
  const Json* value = input(name);
  if (value && right(*value)) return {value->get<T>()};
  if (value && value->is_array() && std::all_of(value->begin(), value->end(), right)) {
    for (const Json& entry : *value) entries.push_back(entry.get<T>());
  }
  if (!entries.empty()) return entries;
  give_up(fmt::format("the input is not a list of {}: {}", of_what, name));
  return {instead};
}

std::vector<double> CheckInputs::numbers(const char* name) const { return list<double>(name, 1, "numbers"); }
std::vector<std::string> CheckInputs::texts(const char* name) const { return list<std::string>(name, "", "words"); }

Text CheckInputs::file(const char* name) const { return value_of(beside_(text(name))); }

Result<std::vector<print::Check>> run_checks(const CheckFiles& files) {
  std::vector<print::Check> checks;
  std::set<std::string> ids;
  for (const auto& [name, text] : files.topics) {
    const auto wrong = [&, &file = text.file](const std::string& what) {
      const std::string after = checks.empty() ? "" : " (the last case read was " + checks.back().id + ")";
      return Error{.problem = fmt::format("not a data file of published checks: {}{}", what, after),
                   .allowed = "the form described in docs/checks.md",
                   .file = file};
    };
    const Json data = Json::parse(text.text, nullptr, false);
    if (data.is_discarded()) return wrong("it is not JSON");
    if (!data.contains("topic") || !data.at("topic").is_string()) return wrong("the text \"topic\" is missing");
    if (!data.contains("cases") || !data.at("cases").is_array()) return wrong("the list \"cases\" is missing");
    for (const Json& json : data.at("cases")) {
      if (const std::string missing = missing_in(json); !missing.empty()) return wrong(missing + " is missing");
      checks.push_back(run_case(json, data.at("topic").get<std::string>(), files.beside));
      if (!ids.insert(checks.back().id).second)
        return Error{.problem = "two published checks have the id " + checks.back().id, .file = text.file};
    }
  }
  return checks;
}

}  // namespace strikebed::nursery
