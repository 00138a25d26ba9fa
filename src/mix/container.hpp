#pragma once
// Pots and cells: how much a container of straight or tapered walls holds, filled to a height.
#include "base/result.hpp"

namespace strikebed::mix {

/// Tallest filling the model of a drained container is meant for, cm. Above it the medium settles under its own weight
/// and a pot is no longer at rest minutes after watering.
inline constexpr double kTallestContainerCm = 60;
inline constexpr double kWidestContainerCm = 200;

enum class CrossSection { round, square };

/// A container by its inner dimensions: a frustum whose width changes evenly with height.
struct Container {
  CrossSection section = CrossSection::round;
  double base_cm = 0;  ///< inner diameter, or side of the square, at the bottom
  double top_cm = 0;   ///< the same at the height `height_cm`
  double height_cm = 0;
  double fill_cm = 0;  ///< height of the medium, at most `height_cm`
};

/// The container itself, or what is wrong with it.
/// Errors: a dimension that is not above 0 or is too large, a fill height above the rim.
[[nodiscard]] Result<Container> checked(const Container& container);

/// Where a pot is usually filled to: 1 cm below the rim, a tenth below that of a pot shorter than 10 cm. Common
/// practice, no source.
[[nodiscard]] double usual_fill_cm(double height_cm);

[[nodiscard]] double width_at(const Container& container, double z_cm);      ///< cm, at z above the bottom
[[nodiscard]] double area_at(const Container& container, double z_cm);       ///< cm2
[[nodiscard]] double volume_below(const Container& container, double z_cm);  ///< mL, exact (solid geometry)
[[nodiscard]] double filled_volume(const Container& container);              ///< mL, up to the fill height

}  // namespace strikebed::mix
