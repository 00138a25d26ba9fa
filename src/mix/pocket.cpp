#include "mix/pocket.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numbers>

#include "mix/limits.hpp"

namespace strikebed::mix {

Result<Pocket> checked(const Pocket& pocket, const Container& container, double stem_depth_cm) {
  const double surface_cm = width_at(container, container.fill_cm);
  if (!above_zero_to(pocket.width_cm, surface_cm)) {
    return Error{.problem = fmt::format("found {} cm", pocket.width_cm),
                 .allowed = fmt::format("above 0, at most the surface of the medium, {:.3g} cm", surface_cm),
                 .field = "pocket.width_cm"};
  }
  if (!above_zero_to(pocket.depth_cm, container.fill_cm)) {
    return Error{.problem = fmt::format("found {} cm", pocket.depth_cm),
                 .allowed = fmt::format("above 0, at most the depth of the medium, {:.3g} cm", container.fill_cm),
                 .field = "pocket.depth_cm"};
  }
  if (!from_to(stem_depth_cm, 0, pocket.depth_cm)) {
    return Error{.problem = fmt::format("found {} cm", stem_depth_cm),
                 .allowed = fmt::format("0 or more, at most the depth of the pocket, {:.3g} cm", pocket.depth_cm),
                 .field = "stem_depth_cm"};
  }
  return pocket;
}

double pocket_volume(const Pocket& pocket) {
  return std::numbers::pi / 4 * pocket.width_cm * pocket.width_cm * pocket.depth_cm;
}

double half_drained_suction_cm(const PoreSpace& pores) {
  double residual = 0;
  for (const Pores& kind : pores) residual += kind.residual;
  const double half = (porosity(pores) + residual) / 2;
  constexpr double kLargestSuctionCm = 1e5;
  constexpr int kHalvings = 80;
  double low = 0;
  double high = kLargestSuctionCm;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (water_at(pores, middle) > half ? low : high) = middle;
  }
  return low;
}

double foot_suction_cm(const PoreSpace& medium, double foot_above_bottom_cm) {
  return std::min(foot_above_bottom_cm, half_drained_suction_cm(medium));
}

PocketWater drained_pocket(const PoreSpace& sand, const PoreSpace& medium, const Pocket& pocket,
                           const Container& container, double stem_depth_cm) {
  PocketWater result;
  result.foot_suction_cm = foot_suction_cm(medium, container.fill_cm - pocket.depth_cm);
  result.water = mean_water(sand, result.foot_suction_cm, pocket.depth_cm, [](double) { return 1.0; });
  result.air = porosity(sand) - result.water;
  result.water_ml = result.water * pocket_volume(pocket);
  result.water_at_stem = water_at(sand, result.foot_suction_cm + pocket.depth_cm - stem_depth_cm);
  result.air_at_stem = porosity(sand) - result.water_at_stem;
  return result;
}

}  // namespace strikebed::mix
