#include "mix/auxin.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "base/nearest.hpp"
#include "base/text.hpp"

namespace strikebed::mix {
namespace {

constexpr std::string_view kFromMemory = "tens of grams in a litre, from memory";

constexpr auto kAuxins = std::to_array<Auxin>({
    {"IBA", Acid::iba, false, 203.24, 250, "250 mg/L at 20 °C, USDA National Organic Program technical report 2011"},
    {"K-IBA", Acid::iba, true, 241.33, 20000, kFromMemory},
    {"NAA", Acid::naa, false, 186.21, 420, "0.42 g/L at 20 °C, chemical data pages"},
    {"K-NAA", Acid::naa, true, 224.30, 20000, kFromMemory},
});

std::string upper(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return result;
}

/// Cuts the last word off, without the space before it.
std::string_view take_last_word(std::string_view& text) {
  text = trimmed(text);
  const std::size_t space = text.rfind(' ');
  const std::string_view word = space == std::string_view::npos ? text : text.substr(space + 1);
  text = space == std::string_view::npos ? std::string_view() : trimmed(text.substr(0, space));
  return word;
}

/// At every + that does not belong to "+-".
std::vector<std::string_view> parts_of(std::string_view text) {
  std::vector<std::string_view> parts;
  std::size_t start = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '+' || (i + 1 < text.size() && text[i + 1] == '-')) continue;
    parts.push_back(trimmed(text.substr(start, i - start)));
    start = i + 1;
  }
  parts.push_back(trimmed(text.substr(start)));
  return parts;
}

Error not_above_zero(std::string_view text, std::string_view field) {
  return {.problem = fmt::format("\"{}\" is not above 0", text),
          .allowed = "a strength above 0",
          .field = std::string(field)};
}

/// mmol in one mL of liquid.
Result<Measured> in_liquid(const Amount& strength, const Auxin& auxin, const Solvent& solvent, std::string_view text,
                           std::string_view field) {
  const Measured base = measured(strength);
  double factor = 0;  // mmol/mL for one base unit
  switch (strength.dimension()) {
    case Dimension::strength:
      factor = 1 / auxin.molar_mass_g_mol / 1000;
      break;
    case Dimension::molarity:
      factor = 0.001;
      break;
    case Dimension::share_by_mass: {
      if (solvent.kind == Solvent::Kind::unknown) {
        return Error{.problem = fmt::format("\"{}\" is by weight, and the density of the liquid is not known", text),
                     .allowed = "% w/v (grams in 100 mL), or say the solvent as well",
                     .field = std::string(field)};
      }
      const Alcohol alcohol = solvent.kind == Solvent::Kind::isopropyl ? Alcohol::isopropyl : Alcohol::ethanol;
      const double heavy = solvent_density_g_ml(alcohol, solvent.low_pct);
      const double light = solvent_density_g_ml(alcohol, solvent.high_pct);
      const Measured density{(heavy + light) / 2, (heavy - light) / 2 / std::sqrt(3.0)};
      return propagated(std::array{base, density},
                        [&](const auto& x) { return x[0] / 100 * x[1] * 1000 / auxin.molar_mass_g_mol; });
    }
    default:
      return Error{.problem = fmt::format("\"{}\" is {}, not a strength", text, dimension_words(strength.dimension())),
                   .allowed = "%, ppm, g/L or mM",
                   .field = std::string(field)};
  }
  return Measured{base.value * factor, base.u * factor};
}

/// mmol in one g of powder or talc.
Result<Measured> in_powder(const Amount& strength, const Auxin& auxin, std::string_view text, std::string_view field) {
  const bool ppm_by_weight = strength.dimension() == Dimension::strength && strength.unit->name == "ppm";
  if (strength.dimension() != Dimension::share_by_mass && !ppm_by_weight) {
    return Error{.problem = fmt::format("\"{}\" is not a share by weight", text),
                 .allowed = "% (grams in 100 g) or ppm (mg in 1 kg)",
                 .field = std::string(field)};
  }
  const double per_base = (ppm_by_weight ? 1e-6 : 0.01) * 1000 / auxin.molar_mass_g_mol;
  const Measured base = measured(strength);
  if (base.value * (ppm_by_weight ? 1e-6 : 0.01) > 1) {
    return Error{.problem = fmt::format("\"{}\" is more than all of it", text),
                 .allowed = "up to 100 %",
                 .field = std::string(field)};
  }
  return Measured{base.value * per_base, base.u * per_base};
}

bool ends_in_percent(std::string_view text) { return !text.empty() && text.back() == '%'; }

Result<Amount> parse_strength(std::string_view text, bool dry, std::string_view field) {
  std::string written(text);
  if (ends_in_percent(text)) written += dry ? " w/w" : " w/v";
  return parse_amount(written, field, {Dimension::strength, Dimension::molarity, Dimension::share_by_mass});
}

}  // namespace

const Auxin& auxin_of(Acid acid) { return acid == Acid::iba ? kAuxins[0] : kAuxins[2]; }

Result<const Auxin*> find_auxin(std::string_view name, std::string_view field) {
  std::string wanted = upper(trimmed(name));
  if (wanted == "KIBA") wanted = "K-IBA";
  if (wanted == "KNAA") wanted = "K-NAA";
  for (const Auxin& auxin : kAuxins) {
    if (auxin.name == wanted) return &auxin;
  }
  constexpr std::array<std::string_view, 4> kNames = {"IBA", "K-IBA", "NAA", "K-NAA"};
  const auto nearest = nearest_word(wanted, kNames);
  return Error{.problem = fmt::format("the auxin \"{}\" is not known{}", trimmed(name),
                                      nearest ? fmt::format("; did you mean {}?", *nearest) : std::string()),
               .allowed = "IBA, K-IBA, NAA or K-NAA",
               .field = std::string(field)};
}

double acid_equivalent(const Auxin& auxin) { return auxin_of(auxin.acid).molar_mass_g_mol / auxin.molar_mass_g_mol; }
double mm_from_ppm(double mg_l, const Auxin& auxin) { return mg_l / auxin.molar_mass_g_mol; }
double ppm_from_mm(double mmol_l, const Auxin& auxin) { return mmol_l * auxin.molar_mass_g_mol; }

namespace {

/// What is used as it is sold, and why, by how the words for a stock end; nothing: it can be mixed with.
std::optional<Error> used_as_sold(std::string_view text, std::string_view field) {
  struct Ready {
    std::string_view word;
    std::string_view problem;
  };
  constexpr std::array<Ready, 6> kReady{{
      {"GEL", "a gel is used as sold: it does not thin evenly, and what thickens it needs its own strength"},
      {"PASTE", "a paste is used as sold: it does not thin evenly"},
      {"READY-MADE", "what is ready-made is used as sold: its strength is set for the cuttings on its label"},
      {"READY MADE", "what is ready-made is used as sold: its strength is set for the cuttings on its label"},
      {"READY-TO-USE", "what is ready to use is used as sold: its strength is set for the cuttings on its label"},
      {"READY TO USE", "what is ready to use is used as sold: its strength is set for the cuttings on its label"},
  }};
  const std::string words = upper(trimmed(text));
  for (const Ready& ready : kReady) {
    if (!words.ends_with(ready.word)) continue;
    return Error{.problem = fmt::format("\"{}\": {}", trimmed(text), ready.problem),
                 .allowed = "a liquid of known strength, such as 1 % IBA, or a powder, such as K-IBA powder",
                 .field = std::string(field)};
  }
  return std::nullopt;
}

/// One auxin of a stock and its strength; without one a powder is pure. Notes in the stock how it was read.
Result<Ingredient> parse_ingredient(std::string_view part, const Auxin& auxin, std::string_view whole, Stock& stock,
                                    std::string_view field) {
  if (part.empty() && stock.form == Form::powder) {
    part = "100 %";
    stock.taken_as_pure = true;
  }
  if (part.empty()) {
    return Error{.problem = fmt::format("\"{}\" has no strength", whole),
                 .allowed = "a strength and an auxin, such as 1 % IBA, 5000 ppm NAA, 0.3 % IBA talc or K-IBA powder",
                 .field = std::string(field)};
  }
  const bool liquid = stock.form == Form::liquid;
  stock.percent_was_bare = stock.percent_was_bare || (ends_in_percent(part) && liquid);
  const auto strength = parse_strength(part, !liquid, field);
  if (!strength) return strength.error();
  if (!(strength->number > 0)) return not_above_zero(whole, field);
  if (const auto error = too_wide(*strength, whole, field)) return *error;
  const auto mmol =
      liquid ? in_liquid(*strength, auxin, stock.solvent, whole, field) : in_powder(*strength, auxin, whole, field);
  if (!mmol) return mmol.error();
  return Ingredient{&auxin, *mmol};
}

/// No salt or acid weighs less in a litre than it weighs alone; what is above is a slip of the unit.
bool is_more_than_all(const Stock& stock) {
  double g_per_ml = 0;
  for (const Ingredient& i : stock.ingredients) g_per_ml += i.mmol.value * i.auxin->molar_mass_g_mol / 1000;
  return g_per_ml > 1.0001;
}

}  // namespace

Result<Stock> parse_stock(std::string_view text, const Solvent& solvent, std::string_view field,
                          StockStrength strength_is) {
  if (const auto ready = used_as_sold(text, field)) return *ready;
  Stock stock;
  stock.words = std::string(trimmed(text));
  std::string_view rest = trimmed(text);
  std::string_view without_form = rest;
  const std::string form = upper(take_last_word(without_form));
  if (form == "POWDER" || form == "TALC") {
    stock.form = form == "POWDER" ? Form::powder : Form::talc;
    rest = without_form;
  } else {
    stock.solvent = solvent;
  }
  if (stock.form != Form::liquid && solvent.kind != Solvent::Kind::unknown) {
    return Error{.problem = fmt::format("\"{}\" is dry, but a solvent is given", stock.words),
                 .allowed = "no solvent; or <into> for the liquid it goes into",
                 .field = "solvent"};
  }
  const std::vector<std::string_view> parts = parts_of(rest);
  for (std::string_view part : parts) {
    const std::string_view whole = part;
    const auto auxin = find_auxin(take_last_word(part), field);
    if (!auxin) return auxin.error();
    const bool twice = std::any_of(stock.ingredients.begin(), stock.ingredients.end(),
                                   [&](const Ingredient& i) { return i.auxin == *auxin; });
    if (twice) {
      return Error{.problem = fmt::format("\"{}\" names {} twice", stock.words, (*auxin)->name),
                   .allowed = "each auxin once, with all there is of it",
                   .field = std::string(field)};
    }
    const bool may_be_asked = parts.size() == 1 && strength_is == StockStrength::may_be_asked;
    if (part.empty() && stock.form != Form::powder && may_be_asked) {
      stock.strength_asked = true;
      stock.ingredients.push_back({*auxin, {}});
      return stock;
    }
    const auto ingredient = parse_ingredient(part, **auxin, whole, stock, field);
    if (!ingredient) return ingredient.error();
    stock.ingredients.push_back(*ingredient);
  }
  if (is_more_than_all(stock)) {
    return Error{.problem = fmt::format("\"{}\" is more than all of it", stock.words),
                 .allowed = "up to 100 %",
                 .field = std::string(field)};
  }
  return stock;
}

Result<AuxinTarget> parse_auxin_target(std::string_view text, const Stock& stock, bool dry, std::string_view field) {
  AuxinTarget target;
  std::string_view rest = trimmed(text);
  std::string_view without_name = rest;
  const std::string last = upper(take_last_word(without_name));
  const bool all = last == "TOTAL";
  const bool names_auxin = last.find("IBA") != std::string::npos || last.find("NAA") != std::string::npos;
  if (all) {
    rest = without_name;
  } else if (names_auxin) {
    const auto auxin = find_auxin(last, field);
    if (!auxin) return auxin.error();
    target.auxin = *auxin;
    rest = without_name;
  } else if (stock.ingredients.size() == 1) {
    target.auxin = stock.ingredients.front().auxin;
  }
  if (!names_auxin && !all) {
    // An unknown auxin, or none where there are several.
    const auto amount = parse_strength(rest, dry, field);
    if (!amount) {
      const auto shorter = parse_strength(without_name, dry, field);
      if (shorter.ok()) return find_auxin(last, field).error();
      return amount.error();
    }
    if (stock.ingredients.size() > 1) {
      return Error{.problem = fmt::format("\"{}\" does not say of which auxin, and the stock holds several", rest),
                   .allowed = fmt::format("{0} IBA, {0} NAA or {0} total (all together as IBA by mole)", rest),
                   .field = std::string(field)};
    }
  }
  const auto strength = parse_strength(rest, dry, field);
  if (!strength) return strength.error();
  if (!(strength->number > 0)) return not_above_zero(rest, field);
  if (const auto error = too_wide(*strength, rest, field)) return *error;
  target.auxin_left_out =
      !all && !names_auxin && target.auxin && (*target.auxin)->salt && strength->dimension() != Dimension::molarity;
  const Auxin& counted_as = target.auxin ? **target.auxin : auxin_of(Acid::iba);
  const auto mmol = dry ? in_powder(*strength, counted_as, rest, field)
                        : in_liquid(*strength, counted_as, {Solvent::Kind::unknown, 0, 0}, rest, field);
  if (!mmol) return mmol.error();
  target.mmol = mmol->value * 1000;
  target.mmol_u = mmol->u * 1000;
  target.number = strength->number;
  target.unit = strength->unit->name;
  return target;
}

Measured mmol_in(const Stock& stock, const std::optional<const Auxin*>& auxin) {
  Measured sum;
  for (const Ingredient& i : stock.ingredients) {
    if (auxin && i.auxin->acid != (*auxin)->acid) continue;
    sum = {sum.value + i.mmol.value, std::hypot(sum.u, i.mmol.u)};
  }
  return sum;
}

std::string_view name_of(const std::optional<const Auxin*>& auxin) {
  return auxin ? (*auxin)->name : std::string_view("total auxin as IBA");
}

double dose_index_ppm(double iba_equivalent_ppm, double seconds, double exponent) {
  return iba_equivalent_ppm * std::pow(seconds / 5, exponent);
}

double burnt_share(double dose_ppm, const ResponsePrior& prior) {
  if (dose_ppm <= 0) return 0;
  return 1 / (1 + std::pow(prior.half_burnt_ppm / dose_ppm, prior.burn_steepness));
}

double rooted_share(double dose_ppm, const ResponsePrior& prior) {
  if (dose_ppm <= 0) return prior.without;
  const double from_best = std::log(dose_ppm / prior.best_ppm) / prior.spread_ln;
  const double unburnt = prior.without + (prior.at_best - prior.without) * std::exp(-from_best * from_best / 2);
  return (1 - burnt_share(dose_ppm, prior)) * unburnt;
}

DipComparison compare_dip(double iba_equivalent_ppm, double seconds, double reference_ppm, double reference_seconds) {
  DipComparison dip;
  dip.dose_ppm = dose_index_ppm(iba_equivalent_ppm, seconds);
  dip.reference_ppm = dose_index_ppm(reference_ppm, reference_seconds);
  dip.ratio = rooted_share(dip.dose_ppm) / rooted_share(dip.reference_ppm);
  dip.burnt = burnt_share(dip.dose_ppm);
  dip.ratio_low = dip.ratio_high = dip.ratio;
  dip.burnt_low = dip.burnt_high = dip.burnt;
  for (const double best : {700.0, 2500.0}) {
    for (const double spread : {0.6, 1.3}) {
      for (const double exponent : {0.18, 0.35}) {
        for (const double half_burnt : {4000.0, 15000.0}) {
          ResponsePrior prior;
          prior.best_ppm = best;
          prior.spread_ln = spread;
          prior.half_burnt_ppm = half_burnt;
          const double dose = dose_index_ppm(iba_equivalent_ppm, seconds, exponent);
          const double reference = dose_index_ppm(reference_ppm, reference_seconds, exponent);
          const double ratio = rooted_share(dose, prior) / rooted_share(reference, prior);
          dip.ratio_low = std::min(dip.ratio_low, ratio);
          dip.ratio_high = std::max(dip.ratio_high, ratio);
          dip.burnt_low = std::min(dip.burnt_low, burnt_share(dose, prior));
          dip.burnt_high = std::max(dip.burnt_high, burnt_share(dose, prior));
        }
      }
    }
  }
  return dip;
}

}  // namespace strikebed::mix
