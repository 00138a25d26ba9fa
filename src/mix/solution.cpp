#include "mix/solution.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "mix/solution_remarks.hpp"

namespace strikebed::mix {
namespace {

constexpr double kStrongInAlcohol_mg_l = 20'000;  // of an acid: the strongest that concentrates come in, 2 %; trade
constexpr double kQuickToLeave_pct = 10;
constexpr double kWaterOnACutting_ml = 0.03;  // 0.2 mm of film on 15 mm of a 2 mm stem, and a hanging drop; guess
constexpr double kDropsUpTo_ml = 5;
constexpr double kMost = 1e7;  // mL or g of mixture

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
    return wrong(fmt::format("\"{}\" is not above 0", to_text(dose)), "an amount above 0", "dose");
  if (const auto error = too_wide(dose, to_text(dose), "dose")) return *error;
  const bool liquid = stock.form == Form::liquid;
  if (liquid && dose.dimension() == Dimension::volume) return measured_volume(dose);
  if (liquid && dose.dimension() == Dimension::drops) {
    if (dose.number < 1) return wrong("less than one drop cannot be counted", "1 drop or more", "dose");
    const Measured counted = counted_drops_ml(dose.number, drop);
    return Measured{counted.value, std::hypot(counted.u, measured(dose).u * drop.ml.value)};
  }
  if (!liquid && dose.dimension() == Dimension::mass) return measured(dose);
  return wrong(fmt::format("\"{}\" is {}, and the stock is {}", to_text(dose), dimension_words(dose.dimension()),
                           form_words(stock.form)),
               liquid ? "a volume or drops" : "a weight", "dose");
}

Result<DropSize> drop_of(const SolutionRequest& request) {
  if (!request.calibration) return estimated_drop(request.stock.solvent);
  return calibrated_drop(*request.calibration, request.stock.solvent, "calibration");
}

/// The field a volume was given in; empty: there is none.
std::string volume_field(const SolutionRequest& r) {
  if (r.cup) return "cuttings";
  if (!r.bath) return "";
  return r.bath->of_talc ? "talc" : r.bath->filling == Filling::added_to ? "added_to" : "made_up_to";
}

std::optional<Error> wrong_combination(const SolutionRequest& r) {
  const std::string ways = "two of <target>, <dose> and a volume (<made_up_to>, <added_to> or <cuttings>), or <ratio>";
  const std::string volume = volume_field(r);
  if (r.bath && r.cup) return wrong("both a volume and cuttings are given", "one of them", "cuttings");
  const bool bath = r.bath || r.cup;
  const bool asks_stock = r.stock.strength_asked;
  if (asks_stock && !(r.target && (r.ratio || (r.dose && bath)))) {
    return wrong(fmt::format("\"{}\" has no strength", r.stock.words),
                 "a strength and an auxin, such as 1 % IBA or 0.3 % IBA talc; or <target> with <ratio>, or with <dose> "
                 "and a volume: then the strength of the stock is the answer",
                 "stock");
  }
  if (!asks_stock && r.ratio && r.target) return wrong("both a ratio and a target are given", "one of them", "ratio");
  if (r.ratio && r.dose && bath)
    return wrong("a ratio, a dose and a volume are too many", fmt::format("two of <ratio>, <dose> and <{}>", volume),
                 "ratio");
  if (!asks_stock && r.target && r.dose && bath)
    return wrong("a target, a dose and a volume are too many", fmt::format("two of <target>, <dose> and <{}>", volume),
                 "target");
  if (!r.ratio && r.target.has_value() + r.dose.has_value() + bath < 2) return wrong("too little is given", ways);
  if (r.bath && !(r.bath->amount.value > 0))
    return wrong(fmt::format("\"{}\" is not above 0", r.bath->words), "an amount above 0", volume);
  if (r.bath && r.bath->amount.value > kMost) {
    return wrong(fmt::format("\"{}\" is more than this is meant for", r.bath->words),
                 r.bath->of_talc ? "up to 10000 kg" : "up to 10000 L", volume);
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
    return wrong(fmt::format("the stock holds no {}", name_of(r.target->auxin)), held, "target");
  }
  if (stock.strength_asked) return std::nullopt;
  if (r.target->mmol_u > 0) {
    return wrong(fmt::format("the limits of {} are not reckoned with: it is what is wanted", asked),
                 "the strength alone; limits where it was measured and the stock is asked (<stock> IBA)", "target");
  }
  const double share = r.target->mmol / 1000 / there.value;
  if (stock.form == Form::powder && !dry) {
    // A powder needs room: what would fill half of the liquid does not dissolve.
    if (share > 0.5)
      return wrong(fmt::format("{} is more than the liquid can take up", asked), "a weaker target", "target");
    return std::nullopt;
  }
  if (share < 1) return std::nullopt;
  const std::string most =
      fmt::format("{} {} {}", figures(ppm_of(there.value * 1000, r.target->auxin), 4), "ppm", name_of(r.target->auxin));
  return wrong(fmt::format("the target, {}, is not weaker than the stock, {}", asked, most), "below " + most, "target");
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

double iba_equivalent_ppm(const Stock& stock, double share) {
  return ppm_of(1000 * mmol_in(stock, std::nullopt).value * share, std::nullopt);
}

/// What the dose is measured with. Marks beside the scale of a powder are for a second step.
Result<std::vector<Instrument>> instruments_for(const SolutionRequest& request, double dose) {
  using Kind = Instrument::Kind;
  const bool liquid = request.stock.form == Form::liquid;
  std::vector<Instrument> fitting;
  for (const Instrument& instrument : request.instruments) {
    if (liquid != (instrument.kind == Kind::scale)) fitting.push_back(instrument);
  }
  for (const Instrument& instrument : request.instruments) {
    const bool for_second = !liquid && instrument.kind == Kind::marks && !fitting.empty();
    if (liquid == (instrument.kind == Kind::scale) && !for_second) {
      return wrong(fmt::format("{} do not measure {}", instrument_words(instrument), form_words(request.stock.form)),
                   liquid ? "drops, a syringe or a cylinder" : "a scale", "instruments");
    }
  }
  if (!fitting.empty()) return fitting;
  if (!liquid) return std::vector<Instrument>{usual_scale(dose)};
  if (dose > kDropsUpTo_ml) return std::vector<Instrument>{usual_marks(dose)};
  return std::vector<Instrument>{{Kind::drops, 1}, usual_marks(dose)};
}

/// Of the grower's marks or scales: the coarsest that tells kFairSteps of this amount apart, else the finest.
std::optional<Instrument> own_instrument(const SolutionRequest& request, Instrument::Kind kind, double amount) {
  std::optional<Instrument> best;
  for (const Instrument& one : request.instruments) {
    if (one.kind != kind) continue;
    const bool fair = amount >= kFairSteps * one.step;
    const bool best_is_fair = best && amount >= kFairSteps * best->step;
    if (!best || (fair ? !best_is_fair || one.step > best->step : !best_is_fair && one.step < best->step)) best = one;
  }
  return best;
}

/// Two amounts of kFairSteps or more in place of one that is too small; a jug of a usual size between them. `share` of
/// everything is to be stock.
std::optional<TwoSteps> two_steps(const SolutionRequest& request, const Solution& solution, double share, double bath,
                                  double asked_mmol) {
  using Kind = Instrument::Kind;
  constexpr std::array<double, 10> kVolumes_ml = {5, 10, 20, 25, 50, 100, 200, 250, 500, 1000};
  const Instrument finest_usual{Kind::marks, 0.02};
  if (solution.dry || solution.ways.empty() || solution.liquid <= 0) return std::nullopt;
  if (!std::all_of(solution.ways.begin(), solution.ways.end(), [](const Way& way) { return way.too_coarse; }))
    return std::nullopt;
  const bool weighed = request.stock.form == Form::powder;
  TwoSteps steps;
  const Instrument first = own_instrument(request, weighed ? Kind::scale : Kind::marks, 0)
                               .value_or(weighed ? solution.ways.front().out.instrument : finest_usual);
  steps.first = measure_out(kFairSteps * first.step, first, solution.drop);
  const double first_amount = steps.first.amount.value;
  // A first mixture of a powder is no stronger than what dissolves.
  double least_ml = 0;
  for (const Ingredient& i : request.stock.ingredients) {
    if (!weighed) continue;
    const double mg = first_amount * i.mmol.value * i.auxin->molar_mass_g_mol;
    least_ml = std::max(least_ml, 1000 * mg / (i.auxin->salt ? i.auxin->water_solubility_mg_l : kStrongInAlcohol_mg_l));
    steps.first_in_alcohol |= !i.auxin->salt;
  }
  const Blend blend{true, request.bath ? request.bath->filling : Filling::made_up_to};
  const double least_second_ml = kFairSteps * own_instrument(request, Kind::marks, 0).value_or(finest_usual).step;
  for (const double volume : kVolumes_ml) {
    const double in_first = first_amount / volume;
    if ((!weighed && volume <= first_amount) || volume < least_ml) continue;
    if (share >= in_first) return std::nullopt;
    const double second = blend.dose(share / in_first, bath);
    if (second < least_second_ml) continue;
    steps.first_volume_ml = volume;
    steps.second =
        measure_out(second, own_instrument(request, Kind::marks, second).value_or(usual_marks(second)), solution.drop);
    steps.total = blend.total(steps.second.amount.value, bath);
    steps.first_ppm =
        ppm_of(1000 * asked_mmol * in_first, request.target ? request.target->auxin : std::optional<const Auxin*>());
    const double part = weighed ? 0 : in_first;
    steps.first_alcohol_low_pct = request.stock.solvent.low_pct * part + request.into.low_pct * (1 - part);
    steps.first_alcohol_high_pct = request.stock.solvent.high_pct * part + request.into.high_pct * (1 - part);
    if (steps.first_in_alcohol) {
      steps.first_alcohol_low_pct = std::max(steps.first_alcohol_low_pct, kDissolvingAlcohol_pct);
      steps.first_alcohol_high_pct = 100;
    }
    steps.first_keeping = keeping_of_stock(request.made, steps.first_alcohol_low_pct);
    return steps;
  }
  return std::nullopt;
}

/// What share of everything is stock, with the reading errors of both steps and of the bath; a jug for the first
/// volume.
Measured share_in_two_steps(const TwoSteps& steps, const Measured& bath) {
  return propagated(
      std::array{steps.first.amount, jug_ml(steps.first_volume_ml), steps.second.amount, Measured{steps.total, bath.u}},
      [](const auto& x) { return x[0] / x[1] * x[2] / x[3]; });
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
  if (stock.form == Form::talc && (request.cup || (request.bath && !by_weight))) {
    return wrong("a talc is used as sold: it does not dissolve, and its auxin would not be evenly in a liquid",
                 "<talc>, to thin it with plain talc; or a liquid or a powder as the stock", "stock");
  }
  if (given.dry && (stock.form == Form::liquid || (request.bath && !by_weight) || request.cup)) {
    return wrong(fmt::format("{} and {} do not go together", form_words(stock.form), by_weight ? "talc" : "a liquid"),
                 "a talc or powder into <talc>, a liquid or powder into water", by_weight ? "talc" : "stock");
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
                 "a dose smaller than the volume it is made up to", "dose");
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
                 "more of the stock, less of the mixture, or a weaker target", "target");
  }
  return mmol;
}

Strength strength_row(const Auxin& auxin, const Measured& mmol_in_one) {
  const Measured mmol{1000 * mmol_in_one.value, 1000 * mmol_in_one.u};
  return {auxin.name, {ppm_from_mm(mmol.value, auxin), ppm_from_mm(mmol.u, auxin)}, mmol};
}

/// A dose under half a step of everything that could measure it.
std::optional<Error> nobody_can_measure(const SolutionRequest& request, const Solution& s) {
  std::optional<std::string> problem;
  for (const Way& way : s.ways) {
    problem = too_little_to_measure(s.dose.value, way.out.instrument, s.drop);
    if (!problem) return std::nullopt;
  }
  if (!problem) return std::nullopt;
  return wrong(
      *problem + ", and two steps do not mend that",
      "a stronger target, more in all, or thin the stock first (<keep> with <ratio> \"1 in 100\") and ask again from "
      "that",
      request.target ? "target" : "ratio");
}

/// Which strength the question is about: that of the target's auxin, of the only one, or of all together.
std::optional<const Auxin*> asked_auxin(const SolutionRequest& request) {
  if (request.target) return request.target->auxin;
  if (request.stock.ingredients.size() == 1) return request.stock.ingredients.front().auxin;
  return std::nullopt;
}

/// The share of stock that is wanted; 0: the amounts decide.
double wanted_share(const SolutionRequest& request, double asked_mmol) {
  if (request.ratio) return 1 / request.ratio->mixture_per_part();
  return request.target ? request.target->mmol / 1000 / asked_mmol : 0;
}

/// Dose, total and liquid, before anything is measured out. Returns the share of everything that is stock.
Measured set_amounts(const Given& given, double wanted, Solution& s) {
  const Blend& blend = given.blend;
  Measured share{wanted, 0};
  if (given.dose) s.dose = *given.dose;
  if (given.dose && given.bath) {
    share = share_from_amounts(*given.dose, *given.bath, blend);
    s.total = blend.total(given.dose->value, given.bath->value);
  } else if (given.bath) {
    s.dose = {blend.dose(wanted, given.bath->value), 0};
    s.total = blend.total(s.dose.value, given.bath->value);
  } else if (given.dose) {
    s.total = given.dose->value / wanted;
    share.u = wanted * given.dose->relative();  // made up to a volume that is right for the dose as it is thought to be
  }
  s.liquid = blend.adds_volume ? s.total - s.dose.value : s.total;
  return share;
}

/// The ways of measuring the dose out in whole steps. Returns the share that the first of them gives.
Result<Measured> set_ways(const SolutionRequest& request, const Given& given, Solution& s) {
  const auto instruments = instruments_for(request, s.dose.value);
  if (!instruments) return instruments.error();
  const auto asked = asked_auxin(request);
  Measured first;
  for (const Instrument& instrument : *instruments) {
    Way way;
    way.out = measure_out(s.dose.value, instrument, s.drop);
    way.too_coarse = way.out.steps < kFairSteps;
    const Measured share = share_from_amounts(way.out.amount, *given.bath, given.blend);
    const Measured mmol =
        propagated(std::array{mmol_in(request.stock, asked), share}, [](const auto& x) { return 1000 * x[0] * x[1]; });
    way.ppm = {ppm_of(mmol.value, asked), ppm_of(mmol.u, asked)};
    if (s.ways.empty()) first = share;
    s.ways.push_back(way);
  }
  return first;
}

void set_alcohol(const SolutionRequest& request, double share, Solution& s) {
  if (s.dry) return;
  const double part = request.stock.form == Form::liquid ? share : 0;
  s.alcohol_low_pct = request.stock.solvent.low_pct * part + request.into.low_pct * (1 - part);
  s.alcohol_high_pct = request.stock.solvent.high_pct * part + request.into.high_pct * (1 - part);
  if (!s.two_steps || !s.two_steps->first_in_alcohol) return;
  const double second = s.two_steps->second.amount.value / s.two_steps->total;
  s.alcohol_low_pct = s.two_steps->first_alcohol_low_pct * second + request.into.low_pct * (1 - second);
  s.alcohol_high_pct = s.two_steps->first_alcohol_high_pct * second + request.into.high_pct * (1 - second);
}

std::optional<Renewal> renewal_of(const SolutionRequest& request, const Solution& s) {
  if (s.dry || request.keep || s.total <= 0) return std::nullopt;
  const double filling_ml = request.cup ? cup_ml(*request.cup) : s.total;
  const int thinned = std::max(1, static_cast<int>(std::min(1e6, 0.1 * filling_ml / kWaterOnACutting_ml)));
  return Renewal{request.cup ? request.cup->per_fill : kCuttingsPerFilling, thinned,
                 s.alcohol_high_pct > kQuickToLeave_pct};
}

/// `asked_stock`: how strong the stock must be, where that was the question.
Result<Solution> mixed_from(const SolutionRequest& request, const Given& given,
                            const std::optional<Strength>& asked_stock = std::nullopt) {
  const Stock& stock = request.stock;
  Solution s;
  s.stock = asked_stock;
  s.dry = given.dry;
  s.drop = given.drop;
  s.asked = name_of(asked_auxin(request));
  const double asked_mmol = mmol_in(stock, asked_auxin(request)).value;
  const double wanted = wanted_share(request, asked_mmol);
  Measured share = set_amounts(given, wanted, s);
  if (!given.dose && given.bath) {
    const auto first = set_ways(request, given, s);
    if (!first) return first.error();
    share = *first;
  }
  // A strength that was measured is known as well as it was measured.
  if (stock.strength_asked && request.target->mmol_u > 0)
    share.u = share.value * request.target->mmol_u / request.target->mmol;
  if (!s.ways.empty()) s.two_steps = two_steps(request, s, wanted, given.bath->value, asked_mmol);
  if (s.two_steps) {
    share = share_in_two_steps(*s.two_steps, *given.bath);
  } else if (const auto error = nobody_can_measure(request, s)) {
    return *error;
  }
  s.strengths = strengths_of(stock, request.target, share);
  set_alcohol(request, share.value, s);
  if (request.soak && !s.dry) {
    s.dip = compare_dip(iba_equivalent_ppm(stock, share.value), request.soak->seconds, request.soak->reference_ppm,
                        request.soak->reference_seconds);
  }
  s.renewal = renewal_of(request, s);
  s.keeping = keeping_of(request, s);
  s.remarks = remarks_of(request, s);
  s.assumed = assumptions_of(request, s);
  return s;
}

}  // namespace

double cup_ml(const CupDip& dip) { return std::numbers::pi / 4 * dip.width_mm * dip.width_mm * dip.depth_mm / 1000; }

int fillings(const CupDip& dip) { return (dip.cuttings + dip.per_fill - 1) / dip.per_fill; }

const Strength& strength_of(const Solution& solution, std::string_view name) {
  const auto found = std::find_if(solution.strengths.begin(), solution.strengths.end(),
                                  [&](const Strength& strength) { return strength.name == name; });
  return found == solution.strengths.end() ? solution.strengths.back() : *found;
}

Result<Solution> mix_solution(const SolutionRequest& request) {
  if (const auto error = wrong_combination(request)) return *error;
  const auto given = given_in(request);
  if (!given) return given.error();
  if (!request.stock.strength_asked) return mixed_from(request, *given);
  const auto mmol = strength_of_stock(request, *given);
  if (!mmol) return mmol.error();
  SolutionRequest known = request;
  known.stock.ingredients.front().mmol.value = mmol->value;  // what is not sure of it shows in the mixture
  const Strength answer = strength_row(*request.stock.ingredients.front().auxin, *mmol);
  return mixed_from(known, *given, answer);
}

}  // namespace strikebed::mix
