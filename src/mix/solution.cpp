#include "mix/solution.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace strikebed::mix {
namespace {

constexpr double kRounding = 1.02;                // a target at the limit of solubility, in whole drops
constexpr double kGentleAlcohol_pct = 25;         // thin stems; guess
constexpr double kDissolvingAlcohol_pct = 50;     // concentrates of 1 % are sold in it
constexpr double kStrongInAlcohol_mg_l = 20'000;  // of an acid: the strongest that concentrates come in, 2 %; trade
constexpr double kQuickToLeave_pct = 10;
constexpr double kWaterOnACutting_ml = 0.03;  // 0.2 mm of film on 15 mm of a 2 mm stem, and a hanging drop; guess
constexpr double kDropsUpTo_ml = 5;
constexpr double kMost = 1e7;                   // mL or g of mixture
constexpr double kSmallestSecondStep_ml = 0.4;  // 20 marks of a 1 mL syringe

std::string_view unit_of(const Stock& stock) { return stock.form == Form::liquid ? "mL" : "g"; }
std::string_view form_words(Form form) {
  return form == Form::liquid ? "a liquid" : form == Form::powder ? "a powder" : "a talc powder";
}

/// ppm that so many mmol of what is asked for, in one L (kg), come to.
double ppm_of(double mmol_l, const std::optional<const Auxin*>& auxin) {
  return ppm_from_mm(mmol_l, auxin ? **auxin : auxin_of(Acid::iba));
}

/// How the parts come together: stock per unit of everything, from the amounts of both.
struct Blend {
  bool adds_volume = true;  ///< false: a powder that hardly takes room in a liquid
  Filling filling = Filling::made_up_to;

  [[nodiscard]] double total(double dose, double bath) const {
    return filling == Filling::added_to && adds_volume ? bath + dose : bath;
  }
  /// Dose for a share of stock in everything.
  [[nodiscard]] double dose(double share, double bath) const {
    return filling == Filling::added_to && adds_volume ? bath * share / (1 - share) : bath * share;
  }
};

Error wrong(std::string problem, std::string allowed, std::string field = "") {
  return {.problem = std::move(problem), .allowed = std::move(allowed), .field = std::move(field)};
}

/// The dose that was given, in the stock's own unit.
Result<Measured> given_dose(const Amount& dose, const Stock& stock, const DropSize& drop) {
  if (!(dose.number > 0))
    return wrong(fmt::format("\"{}\" is not above 0", to_text(dose)), "an amount above 0", "--dose");
  const bool liquid = stock.form == Form::liquid;
  if (liquid && dose.dimension() == Dimension::volume) return measured_volume(dose);
  if (liquid && dose.dimension() == Dimension::drops) {
    if (dose.number < 1) return wrong("less than one drop cannot be counted", "1 drop or more", "--dose");
    return counted_drops_ml(dose.number, drop);
  }
  if (!liquid && dose.dimension() == Dimension::mass) return measured(dose);
  return wrong(fmt::format("\"{}\" is {}, and the stock is {}", to_text(dose), dimension_words(dose.dimension()),
                           form_words(stock.form)),
               liquid ? "a volume or drops" : "a weight", "--dose");
}

Result<DropSize> drop_of(const SolutionRequest& request) {
  if (!request.calibration) return estimated_drop(request.stock.solvent);
  return calibrated_drop(*request.calibration, request.stock.solvent, "--calibration");
}

std::optional<Error> wrong_combination(const SolutionRequest& r) {
  const std::string ways = "two of --target, --dose and a volume (--made-up-to, --added-to or --cuttings), or --ratio";
  if (r.bath && r.cup) return wrong("both a volume and cuttings are given", "one of them");
  const bool bath = r.bath || r.cup;
  const bool asks_stock = r.stock.strength_asked;
  if (asks_stock && !(r.target && (r.ratio || (r.dose && bath)))) {
    return wrong(fmt::format("\"{}\" has no strength", r.stock.words),
                 "a strength and an auxin, such as 1 % IBA or 0.3 % IBA talc; or --target with --ratio, or with --dose "
                 "and a volume: then the strength of the stock is the answer",
                 "--from");
  }
  if (!asks_stock && r.ratio && r.target) return wrong("both a ratio and a target are given", "one of them", "--ratio");
  if (r.ratio && r.dose && bath) return wrong("a ratio, a dose and a volume are too many", "leave one out", "--ratio");
  if (!asks_stock && r.target && r.dose && bath)
    return wrong("a target, a dose and a volume are too many", "leave one out");
  if (!r.ratio && r.target.has_value() + r.dose.has_value() + bath < 2) return wrong("too little is given", ways);
  if (r.bath && !(r.bath->amount.value > 0))
    return wrong(fmt::format("\"{}\" is not above 0", r.bath->words), "an amount above 0");
  if (r.bath && r.bath->amount.value > kMost) {
    return wrong(fmt::format("\"{}\" is more than this is meant for", r.bath->words),
                 r.bath->of_talc ? "up to 10000 kg" : "up to 10000 L");
  }
  return std::nullopt;
}

std::optional<Error> wrong_target(const SolutionRequest& r, bool dry) {
  if (!r.target) return std::nullopt;
  const Stock& stock = r.stock;
  const Measured there = mmol_in(stock, r.target->auxin);
  const bool holds_it = std::any_of(stock.ingredients.begin(), stock.ingredients.end(), [&](const Ingredient& i) {
    return !r.target->auxin || i.auxin->acid == (*r.target->auxin)->acid;
  });
  const std::string asked = fmt::format("{:g} {} {}", r.target->number, r.target->unit, name_of(r.target->auxin));
  if (!holds_it) {
    std::string held;
    for (const Ingredient& i : stock.ingredients) held += (held.empty() ? "" : ", ") + std::string(i.auxin->name);
    return wrong(fmt::format("the stock holds no {}", name_of(r.target->auxin)), held, "--target");
  }
  if (stock.strength_asked) return std::nullopt;
  const double share = r.target->mmol / 1000 / there.value;
  if (stock.form == Form::powder && !dry) {
    // A powder needs room: what would fill half of the liquid does not dissolve.
    if (share > 0.5)
      return wrong(fmt::format("{} is more than the liquid can take up", asked), "a weaker target", "--target");
    return std::nullopt;
  }
  if (share < 1) return std::nullopt;
  const std::string most =
      fmt::format("{} {} {}", figures(ppm_of(there.value * 1000, r.target->auxin), 4), "ppm", name_of(r.target->auxin));
  return wrong(fmt::format("the target, {}, is not weaker than the stock, {}", asked, most), "below " + most,
               "--target");
}

/// Each auxin as it is, what is asked for, and all as IBA; for one unit of mixture of which `share` is stock.
std::vector<Strength> strengths_of(const Stock& stock, const std::optional<AuxinTarget>& target,
                                   const Measured& share) {
  std::vector<Strength> rows;
  const auto row = [&](std::string_view name, const Measured& mmol, const std::optional<const Auxin*>& as) {
    const Measured mixed = propagated(std::array{mmol, share}, [](const auto& x) { return 1000 * x[0] * x[1]; });
    rows.push_back({name, {ppm_of(mixed.value, as), ppm_of(mixed.u, as)}, mixed});
  };
  const auto is_there = [&](std::string_view name) {
    return std::any_of(rows.begin(), rows.end(), [&](const Strength& strength) { return strength.name == name; });
  };
  for (const Ingredient& i : stock.ingredients) row(i.auxin->name, i.mmol, i.auxin);
  if (target && target->auxin && !is_there((*target->auxin)->name))
    row((*target->auxin)->name, mmol_in(stock, target->auxin), target->auxin);
  if (rows.size() > 1 || stock.ingredients.front().auxin != &auxin_of(Acid::iba))
    row(name_of(std::nullopt), mmol_in(stock, std::nullopt), std::nullopt);
  return rows;
}

const Strength& strength_named(const std::vector<Strength>& strengths, std::string_view name) {
  const auto found =
      std::find_if(strengths.begin(), strengths.end(), [&](const Strength& s) { return s.name == name; });
  return found == strengths.end() ? strengths.back() : *found;
}

double iba_equivalent_ppm(const Stock& stock, double share) {
  return ppm_of(1000 * mmol_in(stock, std::nullopt).value * share, std::nullopt);
}

Result<std::vector<Instrument>> instruments_for(const SolutionRequest& request, double dose) {
  using Kind = Instrument::Kind;
  const bool liquid = request.stock.form == Form::liquid;
  for (const Instrument& instrument : request.instruments) {
    if (liquid == (instrument.kind == Kind::scale)) {
      return wrong(fmt::format("{} do not measure {}", instrument_words(instrument), form_words(request.stock.form)),
                   liquid ? "drops, a syringe or a cylinder" : "a scale", "--measure");
    }
  }
  if (!request.instruments.empty()) return request.instruments;
  if (!liquid) return std::vector<Instrument>{usual_scale(dose)};
  if (dose > kDropsUpTo_ml) return std::vector<Instrument>{usual_marks(dose)};
  return std::vector<Instrument>{{Kind::drops, 1}, usual_marks(dose)};
}

std::optional<TwoSteps> two_steps(const SolutionRequest& request, const Solution& solution, double asked_mmol) {
  constexpr std::array<double, 10> kVolumes_ml = {5, 10, 20, 25, 50, 100, 200, 250, 500, 1000};
  if (solution.dry || solution.ways.empty() || solution.liquid <= 0) return std::nullopt;
  for (const Way& way : solution.ways) {
    if (!way.too_coarse) return std::nullopt;
  }
  TwoSteps steps;
  // A first mixture of a powder is no stronger than what dissolves.
  double least_ml = 0;
  const double share_g = kFairSteps * solution.ways.front().out.instrument.step;
  for (const Ingredient& i : request.stock.ingredients) {
    if (request.stock.form != Form::powder) continue;
    const double mg = share_g * i.mmol.value * i.auxin->molar_mass_g_mol;
    least_ml = std::max(least_ml, 1000 * mg / (i.auxin->salt ? i.auxin->water_solubility_mg_l : kStrongInAlcohol_mg_l));
    steps.first_in_alcohol |= !i.auxin->salt;
  }
  steps.first = solution.ways.front().out.instrument;
  if (steps.first.kind == Instrument::Kind::drops) steps.first = {Instrument::Kind::marks, 0.02};
  steps.first_amount = kFairSteps * steps.first.step;
  for (const double volume : kVolumes_ml) {
    const double second = solution.dose.value * volume / steps.first_amount;
    const bool liquid_fits = request.stock.form != Form::liquid || volume > steps.first_amount;
    if (!liquid_fits || second < kSmallestSecondStep_ml || volume < least_ml) continue;
    if (second >= solution.total) return std::nullopt;
    steps.first_volume_ml = volume;
    steps.second_ml = second;
    steps.first_ppm = ppm_of(1000 * asked_mmol * steps.first_amount / volume,
                             request.target ? request.target->auxin : std::optional<const Auxin*>());
    steps.second = usual_marks(second);
    return steps;
  }
  return std::nullopt;
}

/// The same share as asked, with the reading errors of both steps and of the bath; a jug for the first volume.
Measured share_in_two_steps(const TwoSteps& steps, const Solution& s, const Measured& bath) {
  const Measured first = measure_out(steps.first_amount, steps.first, s.drop).amount;
  const Measured second = measure_out(steps.second_ml, steps.second, s.drop).amount;
  const Measured mixed = propagated(std::array{first, jug_ml(steps.first_volume_ml), second, Measured{s.total, bath.u}},
                                    [](const auto& x) { return x[0] / x[1] * x[2] / x[3]; });
  return mixed;
}

Keeping keeping_of(const SolutionRequest& request, const Solution& solution) {
  if (solution.dry) {
    return {request.made + Days(365),
            "dry and dark, talc keeps for a season or more (common practice); date it for a year"};
  }
  if (!request.keep) {
    return {request.made, "a diluted solution is for the same day, ten to twelve hours (trade, common practice)"};
  }
  if (solution.alcohol_low_pct >= kDissolvingAlcohol_pct) {
    return {request.made + Days(365),
            "sealed, cool and dark a stock in alcohol is said to keep up to three years (trade); dated for one, to be "
            "sure"};
  }
  return {
      request.made + Days(60),
      "in water about 5 % is lost in a month at room temperature, less in a refrigerator (trade): 10 % by that day"};
}

std::string percent_range(double low, double high) {
  const std::string first = figures(low, 2);
  const std::string last = figures(high, 2);
  return first == last ? first + " %" : fmt::format("{} to {} %", first, last);
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
  std::string carrier = "in water";
  if (solution.dry) carrier = "in talc, ppm by weight";
  if (solution.alcohol_high_pct > 0)
    carrier += fmt::format(", {} alcohol", percent_range(solution.alcohol_low_pct, solution.alcohol_high_pct));
  std::vector<std::string> lines = {
      "ROOTING " + std::string(solution.dry ? "POWDER" : "SOLUTION"), contents, carrier,
      fmt::format("made {}  use by {}", to_iso(request.made), to_iso(solution.keeping.use_by)),
      "Not for food. Keep from children."};
  if (solution.alcohol_high_pct > kGentleAlcohol_pct) lines.emplace_back("FLAMMABLE");
  return lines;
}

std::vector<std::string> warnings_of(const SolutionRequest& request, const Solution& s) {
  std::vector<std::string> texts;
  const Stock& stock = request.stock;
  if (s.dry) return texts;
  for (const Ingredient& i : stock.ingredients) {
    const Auxin& auxin = *i.auxin;
    const double ppm = strength_named(s.strengths, auxin.name).ppm.value;
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
    text += "; another dropper may be 25 % off, so the strength may be half as much again or half.";
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
      const double first =
          i.mmol.value * i.auxin->molar_mass_g_mol * 1000 * s.two_steps->first_amount / s.two_steps->first_volume_ml;
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
  if (!given && stock.form == Form::powder)
    texts.emplace_back("The powder is taken to be pure; write \"98 +- 1 % IBA powder\" if its paper says so.");
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

/// What was given of the mixture, in numbers.
struct Given {
  bool dry = false;
  DropSize drop;
  Blend blend;
  std::optional<Measured> bath;  ///< mL, or g of talc
  std::optional<Measured> dose;  ///< mL or g of the stock
};

Result<Given> given_in(const SolutionRequest& request) {
  const Stock& stock = request.stock;
  const bool by_weight = request.bath && request.bath->of_talc;
  Given given;
  given.dry = stock.form == Form::talc || by_weight;
  if (given.dry && (stock.form == Form::liquid || (request.bath && !by_weight) || request.cup)) {
    return wrong(fmt::format("{} and {} do not go together", form_words(stock.form), by_weight ? "talc" : "a liquid"),
                 "a talc or powder into --talc, a liquid or powder into water");
  }
  if (const auto error = wrong_target(request, given.dry)) return *error;
  const auto drop = drop_of(request);
  if (!drop) return drop.error();
  given.drop = *drop;
  given.blend = {given.dry || stock.form == Form::liquid, request.bath ? request.bath->filling : Filling::made_up_to};
  if (request.bath) given.bath = request.bath->amount;
  if (request.cup) given.bath = jug_ml(cup_ml(*request.cup) * fillings(*request.cup));
  if (!request.dose) return given;
  const auto dose = given_dose(*request.dose, stock, given.drop);
  if (!dose) return dose.error();
  given.dose = *dose;
  if (given.bath && given.blend.adds_volume && given.blend.filling == Filling::made_up_to &&
      given.dose->value >= given.bath->value) {
    return wrong(fmt::format("the dose, {} {}, fills all of {} {}", figures(given.dose->value, 3), unit_of(stock),
                             figures(given.bath->value, 3), unit_of(stock)),
                 "a dose smaller than the volume it is made up to", "--dose");
  }
  return given;
}

Measured share_from_amounts(const Measured& dose, const Measured& bath, const Blend& blend) {
  return propagated(std::array{dose, bath}, [&](const auto& x) { return x[0] / blend.total(x[0], x[1]); });
}

/// The strength a stock must have, mmol in one mL or g, so that its share of the mixture gives the target.
Result<Measured> strength_of_stock(const SolutionRequest& request, const Given& given) {
  const Measured share = given.dose && given.bath ? share_from_amounts(*given.dose, *given.bath, given.blend)
                                                  : Measured{1 / request.ratio->mixture_per_part(), 0};
  const Measured wanted{request.target->mmol / 1000, request.target->mmol_u / 1000};
  const Measured mmol = propagated(std::array{wanted, share}, [](const auto& x) { return x[0] / x[1]; });
  const Auxin& auxin = *request.stock.ingredients.front().auxin;
  const double g_in_one = mmol.value * auxin.molar_mass_g_mol / 1000;
  if (g_in_one > 1) {
    return wrong(fmt::format("the stock would have to hold more than all of it, {} kg {} in one {}",
                             figures(g_in_one, 3), auxin.name, given.dry ? "kg" : "L"),
                 "more of the stock, less of the mixture, or a weaker target", "--target");
  }
  return mmol;
}

Strength strength_row(const Auxin& auxin, const Measured& mmol_in_one) {
  const Measured mmol{1000 * mmol_in_one.value, 1000 * mmol_in_one.u};
  return {auxin.name, {ppm_from_mm(mmol.value, auxin), ppm_from_mm(mmol.u, auxin)}, mmol};
}

/// Of a stock whose strength is the answer: can there be such a one?
std::optional<std::string> hardly_dissolves(const Stock& stock, const Strength& strength) {
  const Auxin& auxin = *stock.ingredients.front().auxin;
  if (stock.form != Form::liquid || strength.ppm.value <= auxin.water_solubility_mg_l) return std::nullopt;
  if (!auxin.salt && stock.solvent.low_pct >= kDissolvingAlcohol_pct) return std::nullopt;
  return fmt::format("A stock of {} ppm {} is more than plain water dissolves ({}): {}.",
                     figures(strength.ppm.value, 3), auxin.name, auxin.solubility_source,
                     auxin.salt ? "take a weaker one, and more of it"
                                : "it must hold at least half alcohol (--solvent), or be the potassium salt");
}

Result<Solution> mixed_from(const SolutionRequest& request, const Given& given) {
  const Stock& stock = request.stock;
  Solution s;
  s.dry = given.dry;
  s.drop = given.drop;
  // What share of everything is stock, from what was given.
  const std::optional<const Auxin*> asked = request.target ? request.target->auxin
                                            : stock.ingredients.size() == 1
                                                ? std::optional<const Auxin*>(stock.ingredients.front().auxin)
                                                : std::nullopt;
  const double asked_mmol = mmol_in(stock, asked).value;
  const Blend& blend = given.blend;
  const std::optional<Measured>& bath = given.bath;
  const std::optional<Measured>& dose = given.dose;
  double share = 0;
  if (request.target) share = request.target->mmol / 1000 / asked_mmol;
  if (request.ratio) share = 1 / request.ratio->mixture_per_part();
  Measured exact_share{share, 0};
  if (dose && bath) {
    exact_share = share_from_amounts(*dose, *bath, blend);
    s.dose = *dose;
    s.total = blend.total(dose->value, bath->value);
  } else if (bath) {
    s.dose = {blend.dose(share, bath->value), 0};
    s.total = blend.total(s.dose.value, bath->value);
  } else if (dose) {
    s.dose = *dose;
    s.total = dose->value / share;
    exact_share.u = share * dose->relative();  // made up to a volume that is right for the dose as it is thought to be
  }
  s.liquid = blend.adds_volume ? s.total - s.dose.value : s.total;

  // Measured out in whole steps, the share is another.
  if (!dose && bath) {
    const auto instruments = instruments_for(request, s.dose.value);
    if (!instruments) return instruments.error();
    for (const Instrument& instrument : *instruments) {
      Way way;
      way.out = measure_out(s.dose.value, instrument, s.drop);
      way.too_coarse = way.out.steps < kFairSteps;
      const Measured got = share_from_amounts(way.out.amount, *bath, blend);
      const Measured mmol =
          propagated(std::array{mmol_in(stock, asked), got}, [](const auto& x) { return 1000 * x[0] * x[1]; });
      way.ppm = {ppm_of(mmol.value, asked), ppm_of(mmol.u, asked)};
      s.ways.push_back(way);
      if (s.ways.size() == 1) exact_share = got;
    }
  }
  // A strength that was measured is known as well as it was measured.
  if (stock.strength_asked && request.target->mmol_u > 0)
    exact_share.u = exact_share.value * request.target->mmol_u / request.target->mmol;
  s.asked = name_of(asked);
  s.two_steps = two_steps(request, s, asked_mmol);
  if (s.two_steps) exact_share = share_in_two_steps(*s.two_steps, s, *bath);
  s.strengths = strengths_of(stock, request.target, exact_share);
  if (!s.dry) {
    const double part = stock.form == Form::liquid ? exact_share.value : 0;
    s.alcohol_low_pct = stock.solvent.low_pct * part + request.into.low_pct * (1 - part);
    s.alcohol_high_pct = stock.solvent.high_pct * part + request.into.high_pct * (1 - part);
  }
  if (request.soak && !s.dry) {
    s.dip = compare_dip(iba_equivalent_ppm(stock, exact_share.value), request.soak->seconds,
                        request.soak->reference_ppm, request.soak->reference_seconds);
  }
  if (!s.dry && !request.keep && s.total > 0) {
    const double filling_ml = request.cup ? cup_ml(*request.cup) : s.total;
    const int thinned = std::max(1, static_cast<int>(std::min(1e6, 0.1 * filling_ml / kWaterOnACutting_ml)));
    s.renewal = Renewal{request.cup ? request.cup->per_fill : kCuttingsPerFilling, thinned,
                        s.alcohol_high_pct > kQuickToLeave_pct};
  }
  s.keeping = keeping_of(request, s);
  s.warnings = warnings_of(request, s);
  s.assumed = assumptions_of(request, s);
  s.label = label_lines(request, s);
  return s;
}

}  // namespace

double cup_ml(const CupDip& dip) { return std::numbers::pi / 4 * dip.width_mm * dip.width_mm * dip.depth_mm / 1000; }

int fillings(const CupDip& dip) { return (dip.cuttings + dip.per_fill - 1) / dip.per_fill; }

Result<Solution> mix_solution(const SolutionRequest& request) {
  if (const auto error = wrong_combination(request)) return *error;
  const auto given = given_in(request);
  if (!given) return given.error();
  if (!request.stock.strength_asked) return mixed_from(request, *given);
  const auto mmol = strength_of_stock(request, *given);
  if (!mmol) return mmol.error();
  SolutionRequest known = request;
  known.stock.ingredients.front().mmol.value = mmol->value;  // what is not sure of it shows in the mixture
  auto solution = mixed_from(known, *given);
  if (!solution) return solution.error();
  solution->stock = strength_row(*request.stock.ingredients.front().auxin, *mmol);
  if (const auto warning = hardly_dissolves(known.stock, *solution->stock)) solution->warnings.push_back(*warning);
  return solution;
}

}  // namespace strikebed::mix
