#include "mix/solution_remarks.hpp"

#include <algorithm>

namespace strikebed::mix {
namespace {

using Kind = SolutionRemarkKind;

constexpr double kRounding = 1.02;  // a target at the limit of solubility, in whole drops

/// A stock that is more than its solvent holds: one whose strength is the answer, or one that was given and cannot be.
void remark_on_stock(const SolutionRequest& request, const Solution& s, std::vector<SolutionRemark>& remarks) {
  const Stock& stock = request.stock;
  // A given stock in a solvent that is not stated was dissolved by whoever sold it.
  if (stock.form != Form::liquid || (!s.stock && stock.solvent.kind == Solvent::Kind::unknown)) return;
  for (const Ingredient& i : stock.ingredients) {
    const double ppm = ppm_from_mm(1000 * i.mmol.value, *i.auxin);
    if (ppm <= i.auxin->water_solubility_mg_l) continue;
    if (!i.auxin->salt && stock.solvent.low_pct >= kDissolvingAlcohol_pct) continue;
    remarks.push_back({.kind = Kind::strong_stock, .auxin = i.auxin, .ppm = ppm});
  }
}

void remark_on_mixture(const SolutionRequest& request, const Solution& s, std::vector<SolutionRemark>& remarks) {
  const bool dissolves_acids = s.alcohol_low_pct >= kDissolvingAlcohol_pct;
  for (const Ingredient& i : request.stock.ingredients) {
    const Auxin& auxin = *i.auxin;
    const double ppm = strength_of(s, auxin.name).ppm.value;
    if (ppm > kRounding * auxin.water_solubility_mg_l && (auxin.salt || !dissolves_acids))
      remarks.push_back({.kind = Kind::strong_mixture, .auxin = &auxin, .ppm = ppm});
    if (request.stock.form == Form::powder && !auxin.salt && !dissolves_acids)
      remarks.push_back({.kind = Kind::acid_powder, .auxin = &auxin});
  }
  if (!request.keep && s.alcohol_high_pct > kGentleAlcohol_pct) remarks.push_back({.kind = Kind::much_alcohol});
}

void remark_on_drops(const SolutionRequest& request, const Solution& s, std::vector<SolutionRemark>& remarks) {
  const auto counted = std::find_if(s.ways.begin(), s.ways.end(),
                                    [](const Way& way) { return way.out.instrument.kind == Instrument::Kind::drops; });
  const bool counts_drops = counted != s.ways.end() || (request.dose && request.dose->dimension() == Dimension::drops);
  if (!counts_drops || s.drop.basis == DropSize::Basis::calibrated) return;
  SolutionRemark remark{.kind = Kind::uncalibrated_drops};
  remark.strength = counted == s.ways.end() ? strength_of(s, s.asked).ppm : counted->ppm;
  if (s.drop.per_ml_low > 1.1 * kWaterDropsPerMl)
    remark.short_by_rule_of_twenty = 1 - 2 * kWaterDropsPerMl / (s.drop.per_ml_low + s.drop.per_ml_high);
  remarks.push_back(remark);
}

void remark_on_steps(const SolutionRequest& request, const Solution& s, std::vector<SolutionRemark>& remarks) {
  const bool all_coarse =
      !s.ways.empty() && std::all_of(s.ways.begin(), s.ways.end(), [](const Way& way) { return way.too_coarse; });
  if (all_coarse && !s.two_steps) remarks.push_back({.kind = Kind::too_coarse});
  if (!s.two_steps) return;
  remarks.push_back({.kind = Kind::in_two_steps});
  for (const Ingredient& i : request.stock.ingredients) {
    const double ppm = first_step_ppm(i, *s.two_steps);
    if (!i.auxin->salt && ppm > i.auxin->water_solubility_mg_l)
      remarks.push_back({.kind = Kind::strong_first_step, .auxin = i.auxin, .ppm = ppm});
  }
}

}  // namespace

double first_step_ppm(const Ingredient& ingredient, const TwoSteps& steps) {
  return 1000 * ingredient.mmol.value * ingredient.auxin->molar_mass_g_mol * steps.first.amount.value /
         steps.first_volume_ml;
}

Keeping keeping_of_stock(Date made, double alcohol_low_pct) {
  if (alcohol_low_pct >= kDissolvingAlcohol_pct) return {made + Days(365), KeepingKind::in_alcohol};
  return {made + Days(60), KeepingKind::in_water};
}

Keeping keeping_of(const SolutionRequest& request, const Solution& solution) {
  if (solution.dry) return {request.made + Days(365), KeepingKind::dry};
  if (request.keep) return keeping_of_stock(request.made, solution.alcohol_low_pct);
  return {request.made, KeepingKind::thinned};
}

std::vector<SolutionRemark> remarks_of(const SolutionRequest& request, const Solution& solution) {
  std::vector<SolutionRemark> remarks;
  if (solution.dry) return remarks;
  remark_on_stock(request, solution, remarks);
  remark_on_mixture(request, solution, remarks);
  remark_on_drops(request, solution, remarks);
  remark_on_steps(request, solution, remarks);
  return remarks;
}

std::vector<SolutionAssumption> assumptions_of(const SolutionRequest& request, const Solution& s) {
  using enum SolutionAssumption;
  const Stock& stock = request.stock;
  const bool liquid = stock.form == Form::liquid;
  const bool powder = stock.form == Form::powder;
  const bool limits_given = stock.strength_asked || std::any_of(stock.ingredients.begin(), stock.ingredients.end(),
                                                                [](const Ingredient& i) { return i.mmol.u > 0; });
  std::vector<SolutionAssumption> assumed;
  const auto assume = [&](bool applies, SolutionAssumption one) {
    if (applies) assumed.push_back(one);
  };
  assume(stock.percent_was_bare, percent_by_volume);
  assume(stock.strength_asked && request.target->mmol_u == 0, wanted_strength);
  assume(request.target && request.target->auxin_left_out, counted_as_salt);
  assume(stock.taken_as_pure, pure_powder);
  assume(!stock.taken_as_pure && !limits_given && powder, exact_powder);
  assume(!limits_given && !powder, exact_stock);
  assume(request.bath && request.bath->amount.u > 0, vessel);
  assume(request.cup.has_value(), fillings);
  assume(!s.dry && liquid && s.alcohol_high_pct > 0, volumes_add_up);
  return assumed;
}

}  // namespace strikebed::mix
