#pragma once
// Whether fine sand stays on top of coarser grains or washes into them with the watering.
#include <optional>
#include <span>
#include <string>

#include "base/result.hpp"

namespace strikebed::mix {

/// Grains between two sieves, their mass spread evenly between the two sizes. low == high: one size.
struct GrainRange {
  double low_mm = 0;
  double high_mm = 0;

  [[nodiscard]] double middle_mm() const { return (low_mm + high_mm) / 2; }
  /// The size that `share` (0 to 1) of the mass is finer than.
  [[nodiscard]] double finer_mm(double share) const { return low_mm + share * (high_mm - low_mm); }
};

/// Errors: reversed, below 0.02 mm (silt), above 100 mm (no grain of a pot).
[[nodiscard]] Result<GrainRange> checked(const GrainRange& range);

/// A part of a mixed grading, by its share of the grains' volume; shares need not sum to 1.
struct Graded {
  GrainRange range;
  double share = 0;
};
/// The size that `share` of all grains is finer than, 0 to 1. At least one part with a share above 0.
[[nodiscard]] double finer_mm(std::span<const Graded> parts, double share);

/// Largest D15 of the coarse over d85 of the fine at which the fine stays.
/// Source: USDA NRCS, National Engineering Handbook part 633, ch. 26 (sands); 5 is Terzaghi & Peck's older rule.
inline constexpr double kRetainingRatio = 4;
inline constexpr double kOlderRetainingRatio = 5;
/// Above it the fine goes at once, between the two slowly. Judgement.
inline constexpr double kAtOnceRatio = 9;
/// Smallest D15 of the coarse over d15 of the fine at which water passes freely from one to the other. Same source.
inline constexpr double kFreelyDrainingRatio = 4;

enum class Staying { stays, slowly_lost, washes_in };
[[nodiscard]] Staying staying(double coarse_d15_mm, double fine_d85_mm);

/// d85 of the finest sand that stays on grains of this D15, mm.
[[nodiscard]] double finest_d85_that_stays(double coarse_d15_mm, double ratio = kRetainingRatio);

/// The largest ball that falls through between three touching balls of this diameter, and through four in a square.
[[nodiscard]] double dense_throat_mm(double diameter_mm);  ///< (2 / sqrt 3 - 1) D
[[nodiscard]] double cubic_throat_mm(double diameter_mm);  ///< (sqrt 2 - 1) D

/// A sieve cut (the upper sieve 1.5 times the lower) that lies as a thin layer between: held by the coarse below and
/// holding the fine above. Nothing when no single layer does both.
[[nodiscard]] std::optional<GrainRange> bridge_layer(double coarse_d15_mm, double fine_d85_mm);

}  // namespace strikebed::mix
