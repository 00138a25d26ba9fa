#include "print/checks_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

constexpr std::size_t kBesideNames = 56;  // characters of a line that the figures take
constexpr std::size_t kLongestName = 38;
constexpr std::size_t kWidthOfColumns = 60;  // narrower, figures stand in a sentence

std::string written(const Figure& figure) {
  if (const auto* word = std::get_if<std::string>(&figure)) return *word;
  return fmt::format("{:.7g}", std::get<double>(figure));
}

// How much of the allowed difference is used up; more than 1 does not hold.
double strain(const Figure& expected, const Figure& computed, const CheckedFigures& figures) {
  const double* wanted = std::get_if<double>(&expected);
  const double* found = std::get_if<double>(&computed);
  if (!wanted || !found) return expected == computed ? 0 : INFINITY;
  const double difference = std::fabs(*found - *wanted);
  if (difference == 0) return 0;
  return std::isfinite(difference) ? difference / (figures.abs + figures.rel * std::fabs(*wanted)) : INFINITY;
}

std::size_t most_strained(const CheckedFigures& figures) {
  std::size_t most = 0;
  double highest = -1;
  for (std::size_t i = 0; i < std::min(figures.expected.size(), figures.computed.size()); ++i) {
    const double here = strain(figures.expected[i], figures.computed[i], figures);
    if (here > highest) {
      highest = here;
      most = i;
    }
  }
  return most;
}

std::string allowed(const CheckedFigures& figures) {
  if (figures.abs == 0 && figures.rel == 0) return "exactly";
  if (figures.rel == 0) return fmt::format("+-{:.3g}", figures.abs);
  if (figures.abs == 0) return fmt::format("+-{:.3g} %", 100 * figures.rel);
  return fmt::format("+-{:.3g} +-{:.3g} %", figures.abs, 100 * figures.rel);
}

/// The name of a figure, and the figures beside it: a name that is too long for its column stands above them.
std::string beside_name(const std::string& name, std::string_view figures, std::size_t width) {
  const std::size_t room = std::min(kLongestName, width - kBesideNames);
  if (width_of(name) > room) return "      " + name + "\n" + beside_name("", figures, width);
  std::string line = "      " + name + std::string(room - width_of(name), ' ') + std::string(figures);
  line.erase(line.find_last_not_of(' ') + 1);
  return line + "\n";
}

std::string row(const CheckedFigures& figures, std::size_t width) {
  const std::size_t shown = most_strained(figures);
  const std::string expected = figures.expected.empty() ? "nothing" : written(figures.expected[shown]);
  const std::string computed = shown < figures.computed.size() ? written(figures.computed[shown]) : "nothing";
  std::string name = figures.name;
  if (figures.expected.size() > 1) name += fmt::format(" [{} of {}]", shown + 1, figures.expected.size());
  const std::string failed = figures.holds ? "" : "      DOES NOT HOLD\n";
  if (width < kWidthOfColumns) {
    return paragraph(
               fmt::format("{}: expected {}, computed {}, allowed {}", name, expected, computed, allowed(figures)),
               width, "      ") +
           failed;
  }
  return beside_name(name, fmt::format(" {:>14} {:>14}  {}", expected, computed, allowed(figures)), width) + failed;
}

/// How the expected values are known, without the particulars.
std::string_view origin_of(const Check& check) {
  constexpr std::array<std::string_view, 5> kOrigins{"looked up", "computed", "by hand", "from memory",
                                                     "common practice"};
  for (const std::string_view origin : kOrigins) {
    if (check.how_known.starts_with(origin)) return origin == "computed" ? "computed with another program" : origin;
  }
  return "known otherwise";
}

std::string topic_in_words(std::string topic) {
  std::replace(topic.begin(), topic.end(), '_', ' ');
  if (!topic.empty() && topic[0] >= 'a' && topic[0] <= 'z') topic[0] = static_cast<char>(topic[0] - 'a' + 'A');
  return topic;
}

}  // namespace

std::string checks_text(std::span<const Check> checks, int width) {
  const std::size_t w = lines_of(width);
  std::map<std::string, std::vector<const Check*>> by_topic;
  for (const Check& check : checks) by_topic[check.topic].push_back(&check);
  std::map<std::string_view, int> by_origin;
  for (const Check& check : checks) ++by_origin[origin_of(check)];
  std::vector<std::string> origins;
  for (const auto& [how_known, count] : by_origin) origins.push_back(fmt::format("{} {}", count, how_known));
  std::string text = fmt::format("{} checks in {} topics", checks.size(), by_topic.size());
  text = paragraph(text + (origins.empty() ? "." : fmt::format(": {}.", fmt::join(origins, ", "))), w) + "\n";
  for (const auto& [topic, members] : by_topic) {
    const auto holding = std::count_if(members.begin(), members.end(), [](const Check* check) { return check->holds; });
    text += fmt::format("{}: {} of {} hold\n", topic_in_words(topic), holding, members.size());
    if (w >= kWidthOfColumns) {
      text += beside_name("", fmt::format(" {:>14} {:>14}  {}", "expected", "computed", "allowed"), w);
    }
    for (const Check* check : members) {
      text += paragraph(fmt::format("{} ({})", check->title, check->id), w, check->holds ? "  + " : "  - ");
      text += paragraph(fmt::format("{}; {}", check->source, check->how_known), w, "      ");
      for (const CheckedFigures& figures : check->figures) text += row(figures, w);
      if (!check->problem.empty()) text += paragraph("DOES NOT HOLD: " + check->problem, w, "      ");
    }
    text += "\n";
  }
  const auto holding = std::count_if(checks.begin(), checks.end(), [](const Check& check) { return check.holds; });
  text += fmt::format("{} of {} published checks hold\n", holding, checks.size());
  return text;
}

}  // namespace strikebed::print
