#include "mix/solution_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace strikebed::mix {
namespace {

constexpr double kRounding = 1.02;         // a target at the limit of solubility, in whole drops
constexpr double kGentleAlcohol_pct = 25;  // thin stems; guess

std::string percent_range(double low, double high) {
  const std::string first = figures(low, 2);
  const std::string last = figures(high, 2);
  return first == last ? first + " %" : fmt::format("{} to {} %", first, last);
}

/// What stands on a bottle.
struct Bottle {
  std::string title;
  std::string contents;
  std::string carrier;
  double alcohol_low_pct = 0;
  double alcohol_high_pct = 0;
  Date made = {};
  Date use_by = {};
};

std::vector<std::string> bottle_lines(const Bottle& bottle) {
  std::string carrier = bottle.carrier;
  if (bottle.alcohol_high_pct > 0)
    carrier += fmt::format(", {} alcohol", percent_range(bottle.alcohol_low_pct, bottle.alcohol_high_pct));
  std::vector<std::string> lines = {bottle.title, bottle.contents, carrier,
                                    fmt::format("made {}  use by {}", to_iso(bottle.made), to_iso(bottle.use_by)),
                                    "Not for food. Keep from children."};
  if (bottle.alcohol_high_pct > kGentleAlcohol_pct) lines.emplace_back("FLAMMABLE");
  return lines;
}

/// Of one auxin in the first of two mixtures.
double first_ppm_of(const Ingredient& i, const TwoSteps& steps) {
  return 1000 * i.mmol.value * i.auxin->molar_mass_g_mol * steps.first.amount.value / steps.first_volume_ml;
}

/// A stock that is more than its solvent holds: one whose strength is the answer, or one that was given and cannot be.
std::vector<std::string> hardly_dissolves(const SolutionRequest& request, const Solution& s) {
  std::vector<std::string> texts;
  const Stock& stock = request.stock;
  // A given stock in a solvent that is not stated was dissolved by whoever sold it.
  if (stock.form != Form::liquid || (!s.stock && stock.solvent.kind == Solvent::Kind::unknown)) return texts;
  for (const Ingredient& i : stock.ingredients) {
    const double ppm = ppm_from_mm(1000 * i.mmol.value, *i.auxin);
    if (ppm <= i.auxin->water_solubility_mg_l) continue;
    if (!i.auxin->salt && stock.solvent.low_pct >= kDissolvingAlcohol_pct) continue;
    texts.push_back(fmt::format("A stock of {} ppm {} is more than plain water dissolves ({}): {}.", figures(ppm, 3),
                                i.auxin->name, i.auxin->solubility_source,
                                i.auxin->salt ? "take a weaker one, and more of it"
                                              : "it must hold at least half alcohol (--solvent), or be the potassium "
                                                "salt"));
  }
  return texts;
}

}  // namespace

Keeping keeping_of_stock(Date made, double alcohol_low_pct) {
  if (alcohol_low_pct >= kDissolvingAlcohol_pct) {
    return {made + Days(365),
            "sealed, cool and dark a stock in alcohol is said to keep up to three years (trade); dated for one, to be "
            "sure"};
  }
  return {
      made + Days(60),
      "in water about 5 % is lost in a month at room temperature, less in a refrigerator (trade): 10 % by that day"};
}

Keeping keeping_of(const SolutionRequest& request, const Solution& solution) {
  if (solution.dry) {
    return {request.made + Days(365),
            "dry and dark, talc keeps for a season or more (common practice); date it for a year"};
  }
  if (request.keep) return keeping_of_stock(request.made, solution.alcohol_low_pct);
  return {request.made, "a diluted solution is for the same day, ten to twelve hours (trade, common practice)"};
}

std::vector<std::string> label_lines(const SolutionRequest& request, const Solution& solution) {
  std::string contents;
  for (const Strength& strength : solution.strengths) {
    const bool ingredient = std::any_of(request.stock.ingredients.begin(), request.stock.ingredients.end(),
                                        [&](const Ingredient& i) { return i.auxin->name == strength.name; });
    if (!ingredient) continue;
    contents += fmt::format("{}{} {} ppm", contents.empty() ? "" : " + ", strength.name,
                            digits(strength.ppm.value, strength.ppm.u));
  }
  return bottle_lines({solution.dry ? "ROOTING POWDER" : "ROOTING SOLUTION", contents,
                       solution.dry ? "in talc, ppm by weight" : "in water", solution.alcohol_low_pct,
                       solution.alcohol_high_pct, request.made, solution.keeping.use_by});
}

std::vector<std::string> first_label_lines(const SolutionRequest& request, const TwoSteps& steps) {
  std::string contents;
  for (const Ingredient& i : request.stock.ingredients) {
    contents +=
        fmt::format("{}{} {} ppm", contents.empty() ? "" : " + ", i.auxin->name, figures(first_ppm_of(i, steps), 3));
  }
  return bottle_lines({"ROOTING STOCK, TO BE THINNED", contents, "in water", steps.first_alcohol_low_pct,
                       steps.first_alcohol_high_pct, request.made, steps.first_keeping.use_by});
}

std::vector<std::string> warnings_of(const SolutionRequest& request, const Solution& s) {
  const Stock& stock = request.stock;
  if (s.dry) return {};
  std::vector<std::string> texts = hardly_dissolves(request, s);
  for (const Ingredient& i : stock.ingredients) {
    const Auxin& auxin = *i.auxin;
    const double ppm = strength_of(s, auxin.name).ppm.value;
    if (ppm > kRounding * auxin.water_solubility_mg_l && auxin.salt) {
      texts.push_back(fmt::format("{} ppm {} is more than is sure to dissolve in water ({}).", figures(ppm, 3),
                                  auxin.name, auxin.solubility_source));
    } else if (ppm > kRounding * auxin.water_solubility_mg_l && s.alcohol_low_pct < kDissolvingAlcohol_pct) {
      const std::string alcohol = s.alcohol_high_pct < 1
                                      ? std::string()
                                      : fmt::format(" The {} alcohol in it helps; how much is not known here.",
                                                    percent_range(s.alcohol_low_pct, s.alcohol_high_pct));
      texts.push_back(
          fmt::format("{0} ppm {1} is more than plain water dissolves ({2}): it may cloud or drop crystals and be "
                      "weaker than computed."
                      "{3} Ways out: the potassium salt (K-{1}), more alcohol (--into \"50 % ethanol\", for stocks), "
                      "or a longer soak in "
                      "{4:.0f} ppm or less.",
                      figures(ppm, 3), auxin.name, auxin.solubility_source, alcohol, auxin.water_solubility_mg_l));
    }
    if (stock.form == Form::powder && !auxin.salt && s.alcohol_low_pct < kDissolvingAlcohol_pct) {
      texts.push_back(
          fmt::format("{} powder is an acid that water hardly wets: dissolve it in a little alcohol first, then "
                      "stir it slowly into the water. The potassium salt dissolves by itself.",
                      auxin.name));
    }
  }
  if (!request.keep && s.alcohol_high_pct > kGentleAlcohol_pct) {
    texts.push_back(
        fmt::format("{} alcohol in the dip is much for stems of 1 to 2 mm: 25 % or less is the guess here, and "
                    "near-neat alcohol dries the stem's end (Blazich 1988). Dip the cut end only.",
                    percent_range(s.alcohol_low_pct, s.alcohol_high_pct)));
  }
  const bool counts_drops =
      std::any_of(s.ways.begin(), s.ways.end(),
                  [](const Way& way) { return way.out.instrument.kind == Instrument::Kind::drops; }) ||
      (request.dose && request.dose->dimension() == Dimension::drops);
  if (counts_drops && s.drop.basis != DropSize::Basis::calibrated) {
    std::string text = fmt::format("Drops are not calibrated: {:.0f} to {:.0f} drops to the mL ", s.drop.per_ml_low,
                                   s.drop.per_ml_high);
    if (s.drop.per_ml_high - s.drop.per_ml_low < 1)
      text = fmt::format("Drops are not calibrated: {:.0f} drops to the mL ", s.drop.per_ml_high);
    text += s.drop.basis == DropSize::Basis::unknown
                ? "are possible, because the solvent is not stated"
                : fmt::format("is what {} gives from a standard dropper", solvent_words(stock.solvent));
    const auto counted = std::find_if(s.ways.begin(), s.ways.end(), [](const Way& way) {
      return way.out.instrument.kind == Instrument::Kind::drops;
    });
    text += fmt::format("; another dropper may be 25 % off, so the strength may be off by {}.",
                        limits_words(counted == s.ways.end() ? strength_of(s, s.asked).ppm : counted->ppm));
    if (s.drop.per_ml_low > 1.1 * kWaterDropsPerMl) {
      text += fmt::format(
          " The rule of 20 drops to the mL holds for water only: a dose counted by it is {:.0f} % too small.",
          100 * (1 - 2 * kWaterDropsPerMl / (s.drop.per_ml_low + s.drop.per_ml_high)));
    }
    text += " Once a bottle, count 40 drops to a mark or onto a scale and give --calibration \"40 drops = 0.8 mL\".";
    texts.push_back(text);
  }
  const bool all_coarse =
      !s.ways.empty() && std::all_of(s.ways.begin(), s.ways.end(), [](const Way& way) { return way.too_coarse; });
  if (all_coarse && !s.two_steps) {
    texts.push_back(
        fmt::format("The dose is fewer than {:.0f} steps of what measures it, and two steps do not mend that: thin the "
                    "stock first (--keep --ratio \"1 in 100\"), then ask again from that.",
                    kFairSteps));
  }
  if (s.two_steps) {
    texts.push_back(
        fmt::format("The dose is fewer than {:.0f} steps of what measures it: make it in two steps.", kFairSteps));
    for (const Ingredient& i : stock.ingredients) {
      const double first = first_ppm_of(i, *s.two_steps);
      if (!i.auxin->salt && first > i.auxin->water_solubility_mg_l) {
        texts.push_back(
            fmt::format("The first step holds {} ppm {}: make it up with at least 50 % alcohol, not with water.",
                        figures(first, 3), i.auxin->name));
      }
    }
  }
  return texts;
}

std::vector<std::string> assumptions_of(const SolutionRequest& request, const Solution& s) {
  std::vector<std::string> texts;
  const Stock& stock = request.stock;
  if (stock.percent_was_bare)
    texts.emplace_back("% of the stock is read as % w/v, grams in 100 mL; write % w/w if the label says by weight.");
  const bool given = stock.strength_asked || std::any_of(stock.ingredients.begin(), stock.ingredients.end(),
                                                         [](const Ingredient& i) { return i.mmol.u > 0; });
  if (stock.strength_asked && request.target->mmol_u == 0)
    texts.emplace_back("The strength of the mixture is what is wanted; write \"250 +- 10 ppm\" where it was measured.");
  if (request.target && request.target->auxin_left_out) {
    const AuxinTarget& target = *request.target;
    const Auxin& salt = **target.auxin;
    texts.push_back(
        fmt::format("{0:g} {1} is read as of the salt, {2}, which is {3} ppm of the acid; write \"{0:g} {1} "
                    "{4}\" if the acid is meant.",
                    target.number, target.unit, salt.name, figures(ppm_from_mm(target.mmol, auxin_of(salt.acid)), 3),
                    auxin_of(salt.acid).name));
  }
  if (stock.taken_as_pure)
    texts.emplace_back("The powder is taken to be pure; write \"98 +- 1 % IBA powder\" if its paper says so.");
  else if (!given && stock.form == Form::powder)
    texts.emplace_back("The share of auxin in the powder is taken as exact; write \"98 +- 1 %\" to carry its error.");
  if (!given && stock.form != Form::powder)
    texts.emplace_back("The strength of the stock is taken as exact; write \"1 +- 0.05 %\" to carry its error.");
  if (request.bath && request.bath->amount.u > 0) {
    texts.push_back(
        fmt::format("{} is taken as {} {} with a standard uncertainty of {} (5 % as limits for a spoon or cup, 2 % for "
                    "another vessel, guesses, unless written with +-).",
                    request.bath->words, figures(request.bath->amount.value, 4), s.dry ? "g" : "mL",
                    figures(request.bath->amount.u, 2)));
  }
  if (request.cup) {
    texts.push_back(fmt::format("{} {} of {} mL ({:g} mm wide, {:g} mm deep), {} cuttings to each.",
                                fillings(*request.cup), fillings(*request.cup) == 1 ? "filling" : "fillings",
                                figures(cup_ml(*request.cup), 3), request.cup->width_mm, request.cup->depth_mm,
                                request.cup->per_fill));
  }
  if (!s.dry && stock.form == Form::liquid && s.alcohol_high_pct > 0)
    texts.emplace_back("Volumes are taken to add up; filling up to the mark makes good what alcohol shrinks.");
  return texts;
}

}  // namespace strikebed::mix
