#pragma once
// The pocket: a hole of fine sand around the stem base, in a coarse medium. Sand over coarse grains is a capillary
// barrier: it drains only until its foot reaches the suction at which the coarse grains let go of their water, however
// tall the pot is. A fine pocket is therefore a wick and no aerated medium.
#include "base/result.hpp"
#include "mix/retention.hpp"

namespace strikebed::mix {

struct Pocket {
  double width_cm = 0;  ///< of the round hole
  double depth_cm = 0;  ///< below the surface of the medium
};

/// Errors: a hole that is not above 0, wider than the medium's surface, deeper than the medium, or not as deep as the
/// stem is set.
[[nodiscard]] Result<Pocket> checked(const Pocket& pocket, const Container& container, double stem_depth_cm);

[[nodiscard]] double pocket_volume(const Pocket& pocket);  ///< mL

/// The suction at which half of the water that drains has gone, cm: what the coarse medium can pull at the sand with.
/// Above it the thread of water between the two breaks.
[[nodiscard]] double half_drained_suction_cm(const PoreSpace& pores);

/// Suction at the foot of a drained pocket, cm: its height above the bottom, at most what the medium can pull.
[[nodiscard]] double foot_suction_cm(const PoreSpace& medium, double foot_above_bottom_cm);

struct PocketWater {
  double foot_suction_cm = 0;
  double water = 0;  ///< mean over the pocket, share of its volume
  double air = 0;
  double water_ml = 0;
  double water_at_stem = 0;  ///< at the stem base
  double air_at_stem = 0;
};
/// A drained pocket.
///   stem_depth_cm  stem base below the surface, at most the depth of the pocket
[[nodiscard]] PocketWater drained_pocket(const PoreSpace& sand, const PoreSpace& medium, const Pocket& pocket,
                                         const Container& container, double stem_depth_cm);

}  // namespace strikebed::mix
