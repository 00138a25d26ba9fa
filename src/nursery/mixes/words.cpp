#include "nursery/mixes/words.hpp"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <cmath>

#include "base/nearest.hpp"
#include "base/number.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

constexpr double kMmPerCm = 10;

std::optional<double> number_of(std::string_view text) {
  while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0) text.remove_prefix(1);
  while (!text.empty() && (std::isspace(static_cast<unsigned char>(text.back())) != 0 || text.back() == '%'))
    text.remove_suffix(1);
  return parse_number(text);
}

}  // namespace

Result<int> read_whole(const std::string& text, int low, int high, const std::string& field) {
  const auto number = number_of(text);
  if (!number || *number != std::floor(*number) || *number < low || *number > high) {
    return Error{.problem = fmt::format("found \"{}\"", text),
                 .allowed = fmt::format("a whole number from {} to {}", low, high),
                 .field = field};
  }
  return static_cast<int>(*number);
}

Result<double> read_number(const std::string& text, double low, double high, const std::string& field) {
  const auto number = number_of(text);
  if (!number || *number < low || *number > high) {
    return Error{.problem = fmt::format("found \"{}\"", text),
                 .allowed = fmt::format("a number from {} to {}", low, high),
                 .field = field};
  }
  return *number;
}

Result<print::Beside> read_beside(const std::string& text, const std::string& field) {
  constexpr std::array<std::string_view, 3> words{"us", "imperial", "metric"};
  if (text.empty() || text == "metric") return print::Beside::nothing;
  if (text == "us") return print::Beside::us;
  if (text == "imperial") return print::Beside::imperial;
  return Error{.problem = fmt::format("found \"{}\"{}", text, did_you_mean(text, words)),
               .allowed = "us, imperial or metric",
               .field = field};
}

Result<LengthPair> read_lengths(const std::string& text, char between, bool alone, const std::string& field) {
  std::size_t unit_at = text.size();
  while (unit_at > 0 && std::isalpha(static_cast<unsigned char>(text[unit_at - 1])) != 0) --unit_at;
  const std::string unit = text.substr(unit_at);
  const std::size_t cut = text.find(between);
  if (unit.empty() || unit_at == 0 || (cut == std::string::npos && !alone) ||
      (cut != std::string::npos && cut >= unit_at)) {
    return Error{.problem = fmt::format("found \"{}\"", text),
                 .allowed = alone ? fmt::format("a length such as \"9 cm\", or two such as \"8{}9 cm\"", between)
                                  : fmt::format("two lengths such as \"1.5 {} 3 cm\"", between),
                 .field = field};
  }
  const auto first =
      mix::parse_positive(text.substr(0, std::min(cut, unit_at)) + " " + unit, mix::Dimension::length, field);
  if (!first) return first.error();
  LengthPair pair{*first / kMmPerCm, *first / kMmPerCm};
  if (cut == std::string::npos) return pair;
  const auto second =
      mix::parse_positive(text.substr(cut + 1, unit_at - cut - 1) + " " + unit, mix::Dimension::length, field);
  if (!second) return second.error();
  pair.second_cm = *second / kMmPerCm;
  return pair;
}

}  // namespace strikebed::nursery
