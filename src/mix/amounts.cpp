#include "mix/amounts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "base/nearest.hpp"
#include "base/number.hpp"
#include "base/text.hpp"

namespace strikebed::mix {
namespace {

constexpr double kFluidOunceUs = 29.5735295625;
constexpr double kFluidOunceImperial = 28.4130625;
constexpr double kOunce_g = 28.349523125;
constexpr double kPound_g = 453.59237;

constexpr auto kUnits = std::to_array<Unit>({
    {"mL", Dimension::volume, 1},
    {"L", Dimension::volume, 1000},
    {"tsp", Dimension::volume, 5},  // the US one is 1.4 % smaller, less than a spoon can be read to
    {"tsp-us", Dimension::volume, kFluidOunceUs / 6},
    {"tsp-metric", Dimension::volume, 5},
    {"tbsp-us", Dimension::volume, kFluidOunceUs / 2},
    {"tbsp-metric", Dimension::volume, 15},
    {"tbsp-au", Dimension::volume, 20},
    {"fl-oz-us", Dimension::volume, kFluidOunceUs},
    {"fl-oz-imp", Dimension::volume, kFluidOunceImperial},
    {"cup-us", Dimension::volume, 8 * kFluidOunceUs},
    {"cup-metric", Dimension::volume, 250},
    {"pint-us", Dimension::volume, 16 * kFluidOunceUs},
    {"pint-imp", Dimension::volume, 20 * kFluidOunceImperial},
    {"quart-us", Dimension::volume, 32 * kFluidOunceUs},
    {"quart-imp", Dimension::volume, 40 * kFluidOunceImperial},
    {"gal-us", Dimension::volume, 128 * kFluidOunceUs},
    {"gal-imp", Dimension::volume, 160 * kFluidOunceImperial},
    {"ft3", Dimension::volume, 28316.846592},
    {"mg", Dimension::mass, 0.001},
    {"g", Dimension::mass, 1},
    {"kg", Dimension::mass, 1000},
    {"oz", Dimension::mass, kOunce_g},
    {"lb", Dimension::mass, kPound_g},
    {"mm", Dimension::length, 1},
    {"cm", Dimension::length, 10},
    {"m", Dimension::length, 1000},
    {"in", Dimension::length, 25.4},
    {"ppm", Dimension::strength, 1},
    {"mg/L", Dimension::strength, 1},
    {"g/L", Dimension::strength, 1000},
    {"% w/v", Dimension::strength, 10000},
    {"mM", Dimension::molarity, 1},
    {"% v/v", Dimension::share_by_volume, 1},
    {"% w/w", Dimension::share_by_mass, 1},
    {"mg/kg", Dimension::share_by_mass, 0.0001},
    {"drops", Dimension::drops, 1},
});

struct Alias {
  std::string_view written;
  std::string_view name;
};

constexpr auto kAliases = std::to_array<Alias>({
    {"cc", "mL"},
    {"cm3", "mL"},
    {"millilitre", "mL"},
    {"milliliter", "mL"},
    {"litre", "L"},
    {"liter", "L"},
    {"ltr", "L"},
    {"teaspoon", "tsp"},
    {"us-tsp", "tsp-us"},
    {"metric-tsp", "tsp-metric"},
    {"us-tbsp", "tbsp-us"},
    {"us-tablespoon", "tbsp-us"},
    {"tablespoon-us", "tbsp-us"},
    {"metric-tbsp", "tbsp-metric"},
    {"metric-tablespoon", "tbsp-metric"},
    {"tablespoon-metric", "tbsp-metric"},
    {"australian-tablespoon", "tbsp-au"},
    {"tablespoon-au", "tbsp-au"},
    {"us-gal", "gal-us"},
    {"us-gallon", "gal-us"},
    {"gallon-us", "gal-us"},
    {"imperial-gallon", "gal-imp"},
    {"gallon-imp", "gal-imp"},
    {"us-fl-oz", "fl-oz-us"},
    {"imperial-fl-oz", "fl-oz-imp"},
    {"us-cup", "cup-us"},
    {"metric-cup", "cup-metric"},
    {"pt-us", "pint-us"},
    {"pt-imp", "pint-imp"},
    {"qt-us", "quart-us"},
    {"qt-imp", "quart-imp"},
    {"cu-ft", "ft3"},
    {"cubic-feet", "ft3"},
    {"gram", "g"},
    {"milligram", "mg"},
    {"kilogram", "kg"},
    {"ounce", "oz"},
    {"pound", "lb"},
    {"millimetre", "mm"},
    {"centimetre", "cm"},
    {"metre", "m"},
    {"inch", "in"},
    {"inches", "in"},
    {"mmol/L", "mM"},
    {"%w/v", "% w/v"},
    {"%v/v", "% v/v"},
    {"%w/w", "% w/w"},
    {"drop", "drops"},
});

struct Ambiguous {
  std::string_view written;
  std::string_view choices;
};

constexpr auto kAmbiguous = std::to_array<Ambiguous>({
    {"tbsp", "tbsp-us (14.8 mL), tbsp-metric (15 mL) or tbsp-au (20 mL)"},
    {"tablespoon", "tbsp-us (14.8 mL), tbsp-metric (15 mL) or tbsp-au (20 mL)"},
    {"gal", "gal-us (3.785 L) or gal-imp (4.546 L)"},
    {"gallon", "gal-us (3.785 L) or gal-imp (4.546 L)"},
    {"fl-oz", "fl-oz-us (29.6 mL) or fl-oz-imp (28.4 mL)"},
    {"fluid-ounce", "fl-oz-us (29.6 mL) or fl-oz-imp (28.4 mL)"},
    {"cup", "cup-us (237 mL) or cup-metric (250 mL)"},
    {"pint", "pint-us (473 mL) or pint-imp (568 mL)"},
    {"pt", "pint-us (473 mL) or pint-imp (568 mL)"},
    {"quart", "quart-us (946 mL) or quart-imp (1137 mL)"},
    {"qt", "quart-us (946 mL) or quart-imp (1137 mL)"},
    {"%", "% w/v (grams in 100 mL), % v/v (mL in 100 mL) or % w/w (grams in 100 g)"},
});

/// Spaces, underscores and full stops between words become one hyphen each; "fl. oz" is "fl-oz", "% w/v" is "%-w/v".
std::string hyphened(std::string_view text) {
  std::string result;
  bool gap = false;
  for (const char c : trimmed(text)) {
    if (c == ' ' || c == '\t' || c == '_' || c == '.' || c == '-') {
      gap = true;
      continue;
    }
    if (gap && !result.empty()) result += '-';
    gap = false;
    result += c;
  }
  return result;
}

const Unit* by_name(std::string_view name) {
  const auto found = std::find_if(kUnits.begin(), kUnits.end(), [&](const Unit& unit) { return unit.name == name; });
  return found == kUnits.end() ? nullptr : &*found;
}

/// By one of its spellings; `written` in lower case with hyphens.
const Unit* by_spelling(const std::string& written) {
  for (const Unit& unit : kUnits) {
    if (lower(hyphened(unit.name)) == written) return &unit;
  }
  for (const Alias& alias : kAliases) {
    if (lower(alias.written) == written) return by_name(alias.name);
  }
  return nullptr;
}

const Ambiguous* ambiguous(const std::string& written) {
  const auto found = std::find_if(kAmbiguous.begin(), kAmbiguous.end(),
                                  [&](const Ambiguous& entry) { return entry.written == written; });
  return found == kAmbiguous.end() ? nullptr : &*found;
}

/// "1.5", "1/2" or "1 1/2".
std::optional<double> number_or_fraction(std::string_view text) {
  text = trimmed(text);
  const std::size_t slash = text.find('/');
  if (slash == std::string_view::npos) return parse_number(text);
  const std::size_t space = text.substr(0, slash).rfind(' ');
  double whole = 0;
  if (space != std::string_view::npos) {
    const auto before = parse_number(trimmed(text.substr(0, space)));
    if (!before || *before < 0 || *before != std::floor(*before)) return std::nullopt;
    whole = *before;
    text = text.substr(space + 1);
  }
  const std::size_t cut = text.find('/');
  const auto above = parse_number(trimmed(text.substr(0, cut)));
  const auto below = parse_number(trimmed(text.substr(cut + 1)));
  if (!above || !below || *below <= 0 || (space != std::string_view::npos && *above < 0)) return std::nullopt;
  return whole + *above / *below;
}

/// How many letters of the text belong to a number: digits, fractions, signs, limits and an exponent ("1e-9").
std::size_t number_end(std::string_view text) {
  const auto digit = [&](std::size_t at) {
    return at < text.size() && std::isdigit(static_cast<unsigned char>(text[at])) != 0;
  };
  std::size_t at = 0;
  while (at < text.size()) {
    const bool exponent =
        (text[at] == 'e' || text[at] == 'E') && at > 0 && (digit(at - 1) || text[at - 1] == '.') &&
        (digit(at + 1) || (at + 1 < text.size() && (text[at + 1] == '+' || text[at + 1] == '-') && digit(at + 2)));
    if (!exponent && std::string_view("0123456789.,/+- \t").find(text[at]) == std::string_view::npos) break;
    at += exponent ? 2 : 1;
  }
  return at;
}

/// The known unit a mistyped one is nearest to, and what that would allow where it is ambiguous itself.
struct Suggestion {
  std::string name;
  std::string choices;
};

std::optional<Suggestion> suggestion(std::string_view asked, std::initializer_list<Dimension> expected) {
  constexpr std::size_t kShortest = 2;  // of a single letter every other is one slip away
  if (asked.size() < kShortest) return std::nullopt;
  const auto fits = [&](Dimension dimension) {
    return expected.size() == 0 || std::find(expected.begin(), expected.end(), dimension) != expected.end();
  };
  std::vector<std::string> lowered;
  std::vector<Suggestion> shown;
  const auto add = [&](std::string_view name, std::string_view choices) {
    lowered.push_back(lower(hyphened(name)));
    shown.push_back({std::string(name), std::string(choices)});
  };
  for (const Unit& unit : kUnits) {
    if (fits(unit.dimension)) add(unit.name, "");
  }
  for (const Ambiguous& entry : kAmbiguous) {
    if (entry.written != "%" && fits(Dimension::volume)) add(entry.written, entry.choices);
  }
  for (const Alias& alias : kAliases) {
    if (fits(by_name(alias.name)->dimension)) add(alias.written, "");
  }
  const std::vector<std::string_view> known(lowered.begin(), lowered.end());
  const auto nearest = nearest_word(lower(hyphened(asked)), known);
  if (!nearest) return std::nullopt;
  return shown[static_cast<std::size_t>(std::find(lowered.begin(), lowered.end(), *nearest) - lowered.begin())];
}

std::string allowed_units(std::initializer_list<Dimension> expected) {
  if (expected.size() == 0) return "mL, L, tsp, tbsp-us, tbsp-metric, tbsp-au, mg, g, oz, ppm, % w/v, mM and more";
  std::string text;
  for (const Dimension dimension : expected) text += (text.empty() ? "" : ", ") + units_of(dimension);
  return text;
}

Error no_amount(std::string_view text, std::string_view field, std::string problem) {
  return {.problem = fmt::format("\"{}\" {}", text, problem),
          .allowed = "a number and a unit, such as 30 mL, 1/2 tsp or 250 ppm",
          .field = std::string(field)};
}

}  // namespace

std::span<const Unit> all_units() { return kUnits; }

std::string_view dimension_words(Dimension dimension) {
  switch (dimension) {
    case Dimension::volume:
      return "a volume";
    case Dimension::mass:
      return "a weight";
    case Dimension::length:
      return "a length";
    case Dimension::strength:
      return "a strength";
    case Dimension::molarity:
      return "a molar strength";
    case Dimension::share_by_volume:
      return "a share by volume";
    case Dimension::share_by_mass:
      return "a share by weight";
    case Dimension::drops:
      return "a number of drops";
  }
  return "";
}

std::string units_of(Dimension dimension) {
  std::string text;
  for (const Unit& unit : kUnits) {
    if (unit.dimension != dimension) continue;
    if (!text.empty()) text += ", ";
    text += unit.name;
  }
  return text;
}

Result<const Unit*> find_unit(std::string_view name, std::string_view field,
                              std::initializer_list<Dimension> expected) {
  const std::string_view asked = trimmed(name);
  if (const Unit* exact = by_name(asked)) return exact;
  std::string written = lower(hyphened(asked));
  if (written == "mm") {
    return Error{.problem = fmt::format("\"{}\" can be a length or a molar strength", asked),
                 .allowed = "mm (millimetres) or mM (millimoles in a litre)",
                 .field = std::string(field)};
  }
  for (int plural = 0; plural < 2; ++plural) {
    if (const Unit* found = by_spelling(written)) return found;
    if (const Ambiguous* found = ambiguous(written)) {
      return Error{.problem = fmt::format("\"{}\" means different things", asked),
                   .allowed = std::string(found->choices),
                   .field = std::string(field)};
    }
    if (written.size() < 2 || written.back() != 's') break;
    written.pop_back();
  }
  const auto nearest = suggestion(asked, expected);
  return Error{.problem = fmt::format("the unit \"{}\" is not known{}", asked,
                                      nearest ? fmt::format("; did you mean {}?", nearest->name) : std::string()),
               .allowed = nearest ? nearest->choices : allowed_units(expected),
               .field = std::string(field)};
}

Result<Amount> parse_amount(std::string_view text, std::string_view field, std::initializer_list<Dimension> expected) {
  const std::string_view whole = trimmed(text);
  if (whole.empty()) return no_amount(whole, field, "is no amount");
  const std::size_t end = number_end(whole);
  std::string_view number = trimmed(whole.substr(0, end));
  std::string_view unit = whole.substr(end);
  std::string_view limits;
  // "10 ± 0.5 mL" and "10 +- 0.5 mL" are the same.
  constexpr std::string_view kPlusMinus = "±";
  if (unit.starts_with(kPlusMinus)) {
    unit.remove_prefix(kPlusMinus.size());
    const std::size_t after = number_end(unit);
    limits = trimmed(unit.substr(0, after));
    unit.remove_prefix(after);
    if (limits.empty()) return no_amount(whole, field, "lacks a number behind ±");
  } else if (const std::size_t at = number.find("+-"); at != std::string_view::npos) {
    limits = trimmed(number.substr(at + 2));
    number = trimmed(number.substr(0, at));
    if (limits.empty()) return no_amount(whole, field, "lacks a number behind +-");
  }
  if (number.empty()) return no_amount(whole, field, "does not start with a number");
  if (number.find(',') != std::string_view::npos || limits.find(',') != std::string_view::npos)
    return no_amount(whole, field, "has a comma; write decimals with a point and thousands without any mark");
  const auto value = number_or_fraction(number);
  const auto spread = limits.empty() ? std::optional<double>(0.0) : number_or_fraction(limits);
  if (!value || !spread || *spread < 0) return no_amount(whole, field, "does not start with a number");
  if (trimmed(unit).empty()) return no_amount(whole, field, "has no unit");
  const auto found = find_unit(unit, field, expected);
  if (!found) return found.error();
  const Amount amount{*value, *spread, found.value()};
  if (!std::isfinite(amount.base()) || !std::isfinite(amount.plus_minus_base()))
    return no_amount(whole, field, "is more than can be reckoned with");
  return amount;
}

std::optional<Error> not_above_zero(const Amount& amount, std::string_view written, Dimension dimension,
                                    std::string_view field) {
  const auto wrong = [&](std::string problem, std::string allowed) {
    return Error{.problem = std::move(problem), .allowed = std::move(allowed), .field = std::string(field)};
  };
  if (amount.dimension() != dimension) {
    return wrong(
        fmt::format("\"{}\" is {}, not {}", written, dimension_words(amount.dimension()), dimension_words(dimension)),
        units_of(dimension));
  }
  if (!(amount.number > 0)) {
    return wrong(fmt::format("\"{}\" is not above 0", written), fmt::format("{} above 0", dimension_words(dimension)));
  }
  return too_wide(amount, written, field);
}

std::optional<Error> too_wide(const Amount& amount, std::string_view written, std::string_view field) {
  if (amount.plus_minus < amount.number) return std::nullopt;
  return Error{.problem = fmt::format("\"{}\" has limits as wide as itself", written),
               .allowed = "limits smaller than the amount",
               .field = std::string(field)};
}

Result<Amount> parse_above_zero(std::string_view text, Dimension dimension, std::string_view field) {
  auto amount = parse_amount(text, field, {dimension});
  if (!amount) return amount.error();
  if (const auto error = not_above_zero(*amount, trimmed(text), dimension, field)) return *error;
  return amount;
}

Result<double> parse_positive(std::string_view text, Dimension dimension, std::string_view field) {
  const auto amount = parse_above_zero(text, dimension, field);
  if (!amount) return amount.error();
  if (const auto limits = limits_given(*amount, field)) return *limits;
  return amount->base();
}

std::optional<Error> limits_given(const Amount& amount, std::string_view field) {
  if (amount.plus_minus == 0) return std::nullopt;
  Amount alone = amount;
  alone.plus_minus = 0;
  return Error{.problem = fmt::format("the limits of \"{}\" are not reckoned with here", to_text(amount)),
               .allowed = fmt::format("the amount alone, \"{}\"", to_text(alone)),
               .field = std::string(field)};
}

std::string to_text(const Amount& amount) {
  constexpr int kAllThatMatter = 10;
  const std::string spread = amount.plus_minus > 0 ? " ± " + figures(amount.plus_minus, kAllThatMatter) : "";
  return fmt::format("{}{} {}", figures(amount.number, kAllThatMatter), spread, amount.unit->name);
}

std::string figures(double value, int significant) {
  if (value == 0 || !std::isfinite(value)) return fmt::format("{:g}", value);
  const int magnitude = static_cast<int>(std::floor(std::log10(std::fabs(value))));
  const double step = std::pow(10.0, magnitude - significant + 1);
  const double rounded = std::round(value / step) * step;
  std::string text = fmt::format("{:.{}f}", rounded, std::max(0, significant - 1 - magnitude));
  if (text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text;
}

std::string digits(double value, double u, int significant) {
  if (!(u > 0) || value == 0 || !std::isfinite(value)) return figures(value, significant);
  const int magnitude = static_cast<int>(std::floor(std::log10(std::fabs(value))));
  const int last = static_cast<int>(std::floor(std::log10(u)));
  return figures(value, std::clamp(magnitude - last + 1, 1, significant));
}

Measured jug_ml(double ml) { return {ml, kVesselTolerance / std::sqrt(3.0) * std::fabs(ml)}; }

Measured measured_volume(const Amount& amount) {
  constexpr double kKitchenTolerance = 0.05;
  if (amount.plus_minus > 0) return measured(amount);
  const std::string_view unit = amount.unit->name;
  const bool kitchen = unit.starts_with("t") || unit.starts_with("cup");  // tsp, tbsp, cup
  return kitchen ? Measured{amount.base(), kKitchenTolerance / std::sqrt(3.0) * std::fabs(amount.base())}
                 : jug_ml(amount.base());
}

Measured measured(const Amount& amount) { return {amount.base(), amount.plus_minus_base() / std::sqrt(3.0)}; }

}  // namespace strikebed::mix
