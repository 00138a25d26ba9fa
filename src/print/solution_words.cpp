#include "print/solution_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace strikebed::print {
namespace {

using mix::figures;
using mix::Ingredient;
using mix::KeepingKind;
using mix::Solution;
using mix::SolutionAssumption;
using mix::SolutionRemark;
using mix::SolutionRemarkKind;
using mix::SolutionRequest;
using mix::TwoSteps;

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
  if (bottle.alcohol_high_pct > mix::kGentleAlcohol_pct) lines.emplace_back("FLAMMABLE");
  return lines;
}

/// " (--solvent)"; nothing where the reader has no control for it.
std::string in_brackets(const FieldNames& names, std::string_view field) {
  const auto name = field_name(names, field);
  return name ? fmt::format(" ({})", *name) : "";
}

std::string strong_stock_words(const SolutionRemark& remark, const FieldNames& names) {
  return fmt::format("A stock of {} ppm {} is more than plain water dissolves ({}): {}.", figures(remark.ppm, 3),
                     remark.auxin->name, remark.auxin->solubility_source,
                     remark.auxin->salt ? "take a weaker one, and more of it"
                                        : fmt::format("it must hold at least half alcohol{}, or be the potassium salt",
                                                      in_brackets(names, "solvent")));
}

std::string strong_mixture_words(const Solution& s, const SolutionRemark& remark, const FieldNames& names) {
  const mix::Auxin& auxin = *remark.auxin;
  if (auxin.salt) {
    return fmt::format("{} ppm {} is more than is sure to dissolve in water ({}).", figures(remark.ppm, 3), auxin.name,
                       auxin.solubility_source);
  }
  const std::string alcohol = s.alcohol_high_pct < 1
                                  ? std::string()
                                  : fmt::format(" The {} alcohol in it helps; how much is not known here.",
                                                percent_range(s.alcohol_low_pct, s.alcohol_high_pct));
  const auto into = field_name(names, "into");
  return fmt::format(
      "{0} ppm {1} is more than plain water dissolves ({2}): it may cloud or drop crystals and be weaker than computed."
      "{3} Ways out: the potassium salt (K-{1}), more alcohol ({5}for stocks), or a longer soak in {4:.0f} ppm or "
      "less.",
      figures(remark.ppm, 3), auxin.name, auxin.solubility_source, alcohol, auxin.water_solubility_mg_l,
      into ? *into + " \"50 % ethanol\", " : "");
}

std::string drops_words(const SolutionRequest& request, const Solution& s, const SolutionRemark& remark,
                        const FieldNames& names) {
  const std::string rate = s.drop.per_ml_high - s.drop.per_ml_low < 1
                               ? fmt::format("{:.0f}", s.drop.per_ml_high)
                               : fmt::format("{:.0f} to {:.0f}", s.drop.per_ml_low, s.drop.per_ml_high);
  std::string text = fmt::format("Drops are not calibrated: {} drops to the mL ", rate);
  text += s.drop.basis == mix::DropSize::Basis::unknown
              ? "are possible, because the solvent is not stated"
              : fmt::format("is what {} gives from a standard dropper", mix::solvent_words(request.stock.solvent));
  text += fmt::format("; with that and another dropper's size the strength is {} ppm {}.",
                      strength_range_words(remark.strength), s.asked);
  if (remark.short_by_rule_of_twenty > 0) {
    text +=
        fmt::format(" The rule of 20 drops to the mL holds for water only: a dose counted by it is {:.0f} % too small.",
                    100 * remark.short_by_rule_of_twenty);
  }
  if (const auto calibration = field_name(names, "calibration")) {
    text += fmt::format(" Once a bottle, count 40 drops to a mark or onto a scale and give {} \"40 drops = 0.8 mL\".",
                        *calibration);
  }
  return text;
}

std::string too_coarse_words(const FieldNames& names) {
  const auto keep = field_name(names, "keep");
  const auto ratio = field_name(names, "ratio");
  return fmt::format(
      "The dose is fewer than {:.0f} steps of what measures it, and two steps do not mend that: thin the stock "
      "first{}, "
      "then ask again from that.",
      mix::kFairSteps, keep && ratio ? fmt::format(" ({} {} \"1 in 100\")", *keep, *ratio) : "");
}

}  // namespace

std::string strength_range_words(const mix::Measured& measured) {
  if (measured.u == 0) return "";
  return fmt::format("{} to {}", mix::digits(std::max(0.0, measured.low()), measured.u),
                     mix::digits(measured.high(), measured.u));
}

std::string_view keeping_words(KeepingKind kind) {
  switch (kind) {
    case KeepingKind::thinned:
      return "a diluted solution is for the same day, ten to twelve hours (trade, common practice)";
    case KeepingKind::in_water:
      return "in water about 5 % is lost in a month at room temperature, less in a refrigerator (trade): 10 % by that "
             "day";
    case KeepingKind::in_alcohol:
      return "sealed, cool and dark a stock in alcohol is said to keep up to three years (trade); dated for one, to be "
             "sure";
    case KeepingKind::dry:
      return "dry and dark, talc keeps for a season or more (common practice); date it for a year";
  }
  return "";
}

std::vector<std::string> label_lines(const SolutionRequest& request, const Solution& solution) {
  std::string contents;
  for (const mix::Strength& strength : solution.strengths) {
    const bool ingredient = std::any_of(request.stock.ingredients.begin(), request.stock.ingredients.end(),
                                        [&](const Ingredient& i) { return i.auxin->name == strength.name; });
    if (!ingredient) continue;
    contents +=
        fmt::format("{}{} {} ppm", contents.empty() ? "" : " + ", strength.name, figures(strength.ppm.value, 3));
  }
  return bottle_lines({solution.dry ? "ROOTING POWDER" : "ROOTING SOLUTION", contents,
                       solution.dry ? "in talc, ppm by weight" : "in water", solution.alcohol_low_pct,
                       solution.alcohol_high_pct, request.made, solution.keeping.use_by});
}

std::vector<std::string> first_label_lines(const SolutionRequest& request, const TwoSteps& steps) {
  std::string contents;
  for (const Ingredient& i : request.stock.ingredients) {
    contents += fmt::format("{}{} {} ppm", contents.empty() ? "" : " + ", i.auxin->name,
                            figures(mix::first_step_ppm(i, steps), 3));
  }
  return bottle_lines({"ROOTING STOCK, TO BE THINNED", contents, "in water", steps.first_alcohol_low_pct,
                       steps.first_alcohol_high_pct, request.made, steps.first_keeping.use_by});
}

std::string remark_words(const SolutionRequest& request, const Solution& s, const SolutionRemark& remark,
                         const FieldNames& names) {
  switch (remark.kind) {
    case SolutionRemarkKind::strong_stock:
      return strong_stock_words(remark, names);
    case SolutionRemarkKind::strong_mixture:
      return strong_mixture_words(s, remark, names);
    case SolutionRemarkKind::acid_powder:
      return fmt::format(
          "{} powder is an acid that water hardly wets: dissolve it in a little alcohol first, then stir it slowly "
          "into "
          "the water. The potassium salt dissolves by itself.",
          remark.auxin->name);
    case SolutionRemarkKind::much_alcohol:
      return fmt::format(
          "{} alcohol in the dip is much for stems of 1 to 2 mm: {:.0f} % or less is the guess here, and near-neat "
          "alcohol dries the stem's end (Blazich 1988). Dip the cut end only.",
          percent_range(s.alcohol_low_pct, s.alcohol_high_pct), mix::kGentleAlcohol_pct);
    case SolutionRemarkKind::uncalibrated_drops:
      return drops_words(request, s, remark, names);
    case SolutionRemarkKind::too_coarse:
      return too_coarse_words(names);
    case SolutionRemarkKind::in_two_steps:
      return fmt::format("The dose is fewer than {:.0f} steps of what measures it: make it in two steps.",
                         mix::kFairSteps);
    case SolutionRemarkKind::strong_first_step:
      return fmt::format("The first step holds {} ppm {}: make it up with at least {:.0f} % alcohol, not with water.",
                         figures(remark.ppm, 3), remark.auxin->name, mix::kDissolvingAlcohol_pct);
  }
  return "";
}

std::vector<std::string> remark_sentences(const SolutionRequest& request, const Solution& solution,
                                          const FieldNames& names) {
  std::vector<std::string> sentences;
  for (const SolutionRemark& remark : solution.remarks)
    sentences.push_back(remark_words(request, solution, remark, names));
  return sentences;
}

std::string assumption_words(const SolutionRequest& request, const Solution& s, SolutionAssumption assumption) {
  switch (assumption) {
    case SolutionAssumption::percent_by_volume:
      return "% of the stock is read as % w/v, grams in 100 mL; write % w/w if the label says by weight.";
    case SolutionAssumption::wanted_strength:
      return "The strength of the mixture is what is wanted; write \"250 +- 10 ppm\" where it was measured.";
    case SolutionAssumption::counted_as_salt: {
      const mix::AuxinTarget& target = *request.target;
      const mix::Auxin& salt = **target.auxin;
      const mix::Auxin& acid = mix::auxin_of(salt.acid);
      return fmt::format(
          "{0:g} {1} is read as of the salt, {2}, which is {3} ppm of the acid; write \"{0:g} {1} {4}\" if the acid is "
          "meant.",
          target.number, target.unit, salt.name, figures(mix::ppm_from_mm(target.mmol, acid), 3), acid.name);
    }
    case SolutionAssumption::pure_powder:
      return "The powder is taken to be pure; write \"98 +- 1 % IBA powder\" if its paper says so.";
    case SolutionAssumption::exact_powder:
      return "The share of auxin in the powder is taken as exact; write \"98 +- 1 %\" to carry its error.";
    case SolutionAssumption::exact_stock:
      return "The strength of the stock is taken as exact; write \"1 +- 0.05 %\" to carry its error.";
    case SolutionAssumption::vessel:
      return fmt::format(
          "{} is taken as {} {} with a standard uncertainty of {} (5 % as limits for a spoon or cup, 2 % for another "
          "vessel, guesses, unless written with +-).",
          request.bath->words, figures(request.bath->amount.value, 4), s.dry ? "g" : "mL",
          figures(request.bath->amount.u, 2));
    case SolutionAssumption::fillings: {
      const int fillings = mix::fillings(*request.cup);
      return fmt::format("{} {} of {} mL ({:g} mm wide, {:g} mm deep), {} cuttings to each.", fillings,
                         fillings == 1 ? "filling" : "fillings", figures(mix::cup_ml(*request.cup), 3),
                         request.cup->width_mm, request.cup->depth_mm, request.cup->per_fill);
    }
    case SolutionAssumption::volumes_add_up:
      return "Volumes are taken to add up; filling up to the mark makes good what alcohol shrinks.";
  }
  return "";
}

std::vector<std::string> assumption_sentences(const SolutionRequest& request, const Solution& solution) {
  std::vector<std::string> sentences;
  for (const SolutionAssumption one : solution.assumed) sentences.push_back(assumption_words(request, solution, one));
  return sentences;
}

}  // namespace strikebed::print
