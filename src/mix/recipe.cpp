#include "mix/recipe.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "base/number.hpp"
#include "base/text.hpp"
#include "mix/amounts.hpp"
#include "mix/limits.hpp"

namespace strikebed::mix {
namespace {

constexpr std::string_view kRecipeForm = "parts and materials between commas, such as \"2 grit 3-4 mm, 1 fired-clay\"";
constexpr std::string_view kGrainForm = "a size or a range of sizes, such as \"0.3 mm\" or \"3-4 mm\"";

bool is_digit(char c) { return std::isdigit(static_cast<unsigned char>(c)) != 0; }

/// Where "3-4 mm" or "0.3mm" starts at the end of a text; npos when it does not end in one.
std::size_t grains_at(std::string_view text) {
  const std::string_view unit_of_length[] = {"mm", "cm", "in"};
  for (const std::string_view unit : unit_of_length) {
    if (!text.ends_with(unit)) continue;
    std::size_t start = text.size() - unit.size();
    const auto part_of_range = [&](char c) { return is_digit(c) || c == '.' || c == '-' || c == '/' || c == ' '; };
    while (start > 0 && part_of_range(text[start - 1])) --start;
    while (start < text.size() && !is_digit(text[start])) ++start;  // a hyphen or a space of the name before it
    if (start < text.size() - unit.size()) return start;
  }
  return std::string_view::npos;
}

/// Where "3-4 mm" ends at the start of a text; 0 when it does not begin with one.
std::size_t grains_before(std::string_view text) {
  if (text.empty() || !is_digit(text.front())) return 0;
  const auto of_sizes = [](char c) { return is_digit(c) || c == '.' || c == '-' || c == '/' || c == ' '; };
  std::size_t end = 0;
  while (end < text.size() && of_sizes(text[end])) ++end;
  const std::size_t unit = end;
  while (end < text.size() && std::isalpha(static_cast<unsigned char>(text[end]))) ++end;
  const std::string_view written = text.substr(unit, end - unit);
  return written == "mm" || written == "cm" || written == "in" ? end : 0;
}

/// Cuts "part", "parts" and "of" off the beginning.
std::string_view without_part_words(std::string_view text) {
  for (const std::string_view word : {"parts", "part", "of"}) {
    if (text.starts_with(word) && text.size() > word.size() && text[word.size()] == ' ')
      text = trimmed(text.substr(word.size()));
  }
  return text;
}

/// Cuts "less 15 %" off the end of a part; 0 when there is none. "less" is a word of its own.
Result<double> take_loss(std::string_view& part, std::string_view field) {
  constexpr std::string_view kLess = "less ";
  const std::size_t at = part.rfind(kLess);
  if (at == std::string_view::npos || (at > 0 && part[at - 1] != ' ')) return 0.0;
  const std::string_view written = trimmed(part.substr(at + kLess.size()));
  std::string_view number = written;
  if (number.ends_with('%')) number = trimmed(number.substr(0, number.size() - 1));
  const auto percent = parse_number(number);
  if (!percent || number.size() == written.size() || !from_to(*percent, 0, 100 * kMostLost)) {
    return Error{.problem = fmt::format("\"less {}\" is no share lost in sieving", written),
                 .allowed = fmt::format("per cent from 0 to {}, such as \"2 grit 3-4 mm less 15 %\"", 100 * kMostLost),
                 .field = std::string(field)};
  }
  part = trimmed(part.substr(0, at));
  return *percent / 100;
}

/// The comma, plus sign or "and" between two parts.
struct Separator {
  std::size_t at = std::string_view::npos;
  std::size_t length = 1;
};
Separator next_separator(std::string_view text) {
  constexpr std::string_view kAnd = " and ";
  const std::size_t sign = text.find_first_of(",+");
  const std::size_t word = text.find(kAnd);
  return word < sign ? Separator{word, kAnd.size()} : Separator{sign, 1};
}

Result<NamedPart> parse_part(std::string_view text, std::string_view field) {
  const auto wrong = [&](std::string problem) {
    return Error{.problem = std::move(problem), .allowed = std::string(kRecipeForm), .field = std::string(field)};
  };
  text = trimmed(text);
  NamedPart part;
  const auto parts = parse_leading_number(text);
  std::string_view rest = parts ? parts->rest : text;
  if (!parts || (!rest.empty() && !std::isspace(static_cast<unsigned char>(rest.front())) && rest.front() != ':')) {
    return wrong(fmt::format("\"{}\" does not start with its number of parts", text));
  }
  part.parts = parts->number;
  constexpr double kLeastPart = 1e-3;
  constexpr double kMostPart = 1e6;
  if (part.parts != 0 && !from_to(part.parts, kLeastPart, kMostPart))
    return wrong(fmt::format("\"{}\" has {} parts", text, part.parts));
  if (rest.starts_with(':')) rest.remove_prefix(1);
  rest = without_part_words(trimmed(rest));
  const auto lost = take_loss(rest, field);
  if (!lost) return lost.error();
  part.lost = *lost;
  if (const std::size_t at = grains_at(rest); at != std::string_view::npos) {
    const auto grains = parse_grains(rest.substr(at), field);
    if (!grains) return grains.error();
    part.grains = *grains;
    rest = trimmed(rest.substr(0, at));
  } else if (const std::size_t before = grains_before(rest); before > 0) {
    const auto grains = parse_grains(rest.substr(0, before), field);
    if (!grains) return grains.error();
    part.grains = *grains;
    rest = trimmed(rest.substr(before));
  }
  if (rest.ends_with('-')) rest.remove_suffix(1);
  part.material = std::string(rest);
  if (part.material.empty()) return wrong(fmt::format("\"{}\" names no material", text));
  return part;
}

}  // namespace

Result<GrainRange> parse_grains(std::string_view text, std::string_view field) {
  text = trimmed(text);
  std::size_t unit_at = text.size();
  while (unit_at > 0 && std::isalpha(static_cast<unsigned char>(text[unit_at - 1]))) --unit_at;
  const std::string unit(text.substr(unit_at));
  const std::string_view sizes = trimmed(text.substr(0, unit_at));
  if (sizes.empty() || !is_digit(sizes.front()) || unit.empty()) {
    return Error{.problem = fmt::format("\"{}\" is no size of grains", text),
                 .allowed = std::string(kGrainForm),
                 .field = std::string(field)};
  }
  const std::size_t dash = sizes.find('-');
  GrainRange range;
  const auto low = parse_positive(fmt::format("{} {}", sizes.substr(0, dash), unit), Dimension::length, field);
  if (!low) return low.error();
  range.low_mm = range.high_mm = *low;
  if (dash != std::string_view::npos) {
    const auto high = parse_positive(fmt::format("{} {}", sizes.substr(dash + 1), unit), Dimension::length, field);
    if (!high) return high.error();
    range.high_mm = *high;
  }
  auto result = checked(range);
  if (result) return range;
  Error error = result.error();
  error.field = field;
  return error;
}

Result<std::vector<NamedPart>> parse_recipe(std::string_view text, std::string_view field) {
  std::vector<NamedPart> recipe;
  if (trimmed(text).empty()) {
    return Error{.problem = "the recipe is empty", .allowed = std::string(kRecipeForm), .field = std::string(field)};
  }
  while (true) {
    const Separator next = next_separator(text);
    const std::size_t end = next.at;
    auto part = parse_part(text.substr(0, end), field);
    if (!part) return part.error();
    recipe.push_back(std::move(*part));
    if (recipe.size() > kMostParts) {
      return Error{.problem = "the recipe has too many parts",
                   .allowed = fmt::format("at most {}", kMostParts),
                   .field = std::string(field)};
    }
    if (end == std::string_view::npos) break;
    text.remove_prefix(end + next.length);
  }
  if (std::ranges::none_of(recipe, [](const NamedPart& part) { return part.parts > 0; })) {
    return Error{
        .problem = "the recipe sums to nothing", .allowed = "at least one part above 0", .field = std::string(field)};
  }
  return recipe;
}

}  // namespace strikebed::mix
