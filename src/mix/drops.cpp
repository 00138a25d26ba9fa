#include "mix/drops.hpp"

#include <fmt/format.h>

#include <cmath>

namespace strikebed::mix {
namespace {

constexpr double kWaterTension_mn_m = 72.75;  // 20 °C, Vazquez et al. 1995
constexpr double kSingleDropSpread = 0.05;
constexpr double kDayToDay = 0.1 / 1.7320508;  // +-10 % as limits
constexpr double kOtherDropper = 0.25;
constexpr double kMiscounted = 1;

/// Whole drops in one mL: more than that no dropper keeps to.
double rate_in(const Solvent& solvent, double share_pct) {
  const Alcohol alcohol = solvent.kind == Solvent::Kind::isopropyl ? Alcohol::isopropyl : Alcohol::ethanol;
  return std::round(drops_per_ml(surface_tension_mn_m(alcohol, share_pct), solvent_density_g_ml(alcohol, share_pct)));
}

/// Density of the solvent, its uncertainty from the range of its share.
std::optional<Measured> density_g_ml(const Solvent& solvent) {
  if (solvent.kind == Solvent::Kind::unknown) return std::nullopt;
  const Alcohol alcohol = solvent.kind == Solvent::Kind::isopropyl ? Alcohol::isopropyl : Alcohol::ethanol;
  const double heavy = solvent_density_g_ml(alcohol, solvent.low_pct);
  const double light = solvent_density_g_ml(alcohol, solvent.high_pct);
  return Measured{(heavy + light) / 2, (heavy - light) / 2 / std::sqrt(3.0)};
}

}  // namespace

double drops_per_ml(double surface_tension_mn_m, double density_g_ml, double water_drops_per_ml) {
  return water_drops_per_ml * (kWaterTension_mn_m / kWaterDensity_g_ml) / (surface_tension_mn_m / density_g_ml);
}

DropSize estimated_drop(const Solvent& solvent) {
  DropSize drop;
  drop.basis = solvent.kind == Solvent::Kind::unknown ? DropSize::Basis::unknown : DropSize::Basis::from_solvent;
  drop.per_ml_low = drop.basis == DropSize::Basis::unknown ? kWaterDropsPerMl : rate_in(solvent, solvent.low_pct);
  drop.per_ml_high = rate_in(solvent, drop.basis == DropSize::Basis::unknown ? 100 : solvent.high_pct);
  const double small = 1 / drop.per_ml_high;
  const double large = 1 / drop.per_ml_low;
  const double middle = (small + large) / 2;
  drop.ml = {middle, std::hypot((large - small) / 2 / std::sqrt(3.0), kOtherDropper * middle)};
  return drop;
}

Result<DropCalibration> parse_calibration(std::string_view text, std::string_view field) {
  const std::size_t equals = text.find('=');
  const Error wrong{.problem = fmt::format("\"{}\" is no count of drops", text),
                    .allowed = "drops and what they came to, such as \"40 drops = 0.8 mL\" or \"50 drops = 0.85 g\"",
                    .field = std::string(field)};
  if (equals == std::string_view::npos) return wrong;
  const auto drops = parse_positive(text.substr(0, equals), Dimension::drops, field);
  if (!drops) return drops.error();
  const auto amount = parse_amount(text.substr(equals + 1), field, {Dimension::volume, Dimension::mass});
  if (!amount) return amount.error();
  const bool fits = amount->dimension() == Dimension::volume || amount->dimension() == Dimension::mass;
  if (!fits || !(amount->number > 0)) return wrong;
  if (const auto error = too_wide(*amount, to_text(*amount), field)) return *error;
  return DropCalibration{*drops, *amount};
}

Result<DropSize> calibrated_drop(const DropCalibration& calibration, const Solvent& solvent, std::string_view field) {
  Measured total = measured(calibration.amount);
  const bool by_weight = calibration.amount.dimension() == Dimension::mass;
  if (total.u == 0) total.u = (by_weight ? 0.01 : 0.05) * total.value / std::sqrt(3.0);
  if (by_weight) {
    const auto density = density_g_ml(solvent);
    if (!density) {
      return Error{.problem = "drops were weighed, but the density of the liquid is not known",
                   .allowed = "<solvent> with what it is, such as \"50 % ethanol\"; or count to a mark in mL",
                   .field = std::string(field)};
    }
    total = propagated(std::array{total, *density}, [](const auto& x) { return x[0] / x[1]; });
  }
  const double count = calibration.drops;
  DropSize drop;
  drop.basis = DropSize::Basis::calibrated;
  drop.ml.value = total.value / count;
  const double relative = std::hypot(std::hypot(total.relative(), kSingleDropSpread / std::sqrt(count)),
                                     std::hypot(kMiscounted / count, kDayToDay));
  drop.ml.u = relative * drop.ml.value;
  if (drop.ml.value < 0.005 || drop.ml.value > 0.2) {
    return Error{.problem = fmt::format("a drop of {} mL is not plausible", figures(drop.ml.value, 2)),
                 .allowed = "0.005 to 0.2 mL (5 to 200 drops in one mL)",
                 .field = std::string(field)};
  }
  drop.per_ml_low = 1 / (drop.ml.value * (1 + 2 * relative));
  drop.per_ml_high = relative < 0.5 ? 1 / (drop.ml.value * (1 - 2 * relative)) : 200;
  return drop;
}

Measured counted_drops_ml(double count, const DropSize& drop) {
  const double relative =
      std::hypot(drop.ml.relative(), std::hypot(kSingleDropSpread / std::sqrt(count), kMiscounted / count));
  return {count * drop.ml.value, count * drop.ml.value * relative};
}

}  // namespace strikebed::mix
