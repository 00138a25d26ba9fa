#include "mix/filter_rule.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "mix/limits.hpp"

namespace strikebed::mix {
namespace {

constexpr double kSmallestGrainMm = 0.02;  // below it is silt, to which none of the rules here apply
constexpr double kLargestGrainMm = 100;
constexpr int kHalvings = 60;

double share_finer(std::span<const Graded> parts, double size_mm) {
  double finer = 0;
  double all = 0;
  for (const auto& [range, share] : parts) {
    const double spread = range.high_mm - range.low_mm;
    const double of_part =
        spread > 0 ? std::clamp((size_mm - range.low_mm) / spread, 0.0, 1.0) : (size_mm >= range.low_mm ? 1.0 : 0.0);
    finer += share * of_part;
    all += share;
  }
  return finer / all;
}

}  // namespace

Result<GrainRange> checked(const GrainRange& range) {
  if (range.low_mm > range.high_mm) {
    return Error{.problem = fmt::format("the grain range {}-{} mm is reversed", range.low_mm, range.high_mm),
                 .allowed = fmt::format("the smaller size first: {}-{} mm", range.high_mm, range.low_mm)};
  }
  if (!from_to(range.low_mm, kSmallestGrainMm, range.high_mm) ||
      !from_to(range.high_mm, range.low_mm, kLargestGrainMm)) {
    return Error{.problem = fmt::format("grains of {}-{} mm", range.low_mm, range.high_mm),
                 .allowed = fmt::format("{} to {} mm", kSmallestGrainMm, kLargestGrainMm)};
  }
  return range;
}

double finer_mm(std::span<const Graded> parts, double share) {
  double low = kLargestGrainMm;
  double high = 0;
  for (const Graded& part : parts) {
    if (part.share <= 0) continue;
    low = std::min(low, part.range.low_mm);
    high = std::max(high, part.range.high_mm);
  }
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (share_finer(parts, middle) < share ? low : high) = middle;
  }
  return high;
}

Staying staying(double coarse_d15_mm, double fine_d85_mm) {
  const double ratio = coarse_d15_mm / fine_d85_mm;
  if (ratio <= kRetainingRatio) return Staying::stays;
  return ratio <= kAtOnceRatio ? Staying::slowly_lost : Staying::washes_in;
}

double finest_d85_that_stays(double coarse_d15_mm, double ratio) { return coarse_d15_mm / ratio; }

double dense_throat_mm(double diameter_mm) { return (2 / std::numbers::sqrt3 - 1) * diameter_mm; }
double cubic_throat_mm(double diameter_mm) { return (std::numbers::sqrt2 - 1) * diameter_mm; }

std::optional<GrainRange> bridge_layer(double coarse_d15_mm, double fine_d85_mm) {
  constexpr double kUpperOverLower = 1.5;
  const GrainRange unit{1, kUpperOverLower};
  const double least_low = coarse_d15_mm / kRetainingRatio / unit.finer_mm(0.85);
  const double most_low = kRetainingRatio * fine_d85_mm / unit.finer_mm(0.15);
  if (least_low > most_low) return std::nullopt;
  const double low = std::sqrt(least_low * most_low);
  return GrainRange{low, kUpperOverLower * low};
}

}  // namespace strikebed::mix
