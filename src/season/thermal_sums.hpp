#pragma once
// How much warmth each stage has had by the end of each day, in each possible season.
#include <algorithm>
#include <vector>

#include "base/workers.hpp"
#include "climate/seasons.hpp"
#include "season/goal.hpp"

namespace strikebed::season {

/// Cumulative thermal time, °C d, of one stage: season s, END of day d at [s * (days + 1) + d + 1]; [s * (days + 1)]
/// is 0, the start of the first day. A difference of two entries is what a stretch of days brings.
class ThermalSum {
 public:
  ThermalSum(int seasons, int days)
      : stride_(static_cast<std::size_t>(days) + 1), sums_(static_cast<std::size_t>(seasons) * stride_) {}
  /// Entry d: thermal time at the START of day d (the end of day d - 1), 0 <= d <= days.
  [[nodiscard]] const float* season(int s) const { return sums_.data() + static_cast<std::size_t>(s) * stride_; }
  [[nodiscard]] float* season(int s) { return sums_.data() + static_cast<std::size_t>(s) * stride_; }
  [[nodiscard]] int days() const { return static_cast<int>(stride_) - 1; }
  /// The usual season's clock: entry by entry the mean of the first so many seasons.
  [[nodiscard]] std::vector<double> usual(int seasons) const;

 private:
  std::size_t stride_;
  std::vector<float> sums_;
};

/// growth::frost_dose of the night that ends on each day, by the lowest air of a position: season s, day d at
/// [s * days + d]; nothing where it never freezes.
class Frost {
 public:
  Frost(const shelter::Position& position, const climate::WeatherSeasons& weather, const Workers& workers);
  /// Null: it never freezes.
  [[nodiscard]] const float* season(int s) const {
    return doses_.empty() ? nullptr : doses_.data() + static_cast<std::size_t>(s) * days_;
  }

 private:
  std::size_t days_;
  std::vector<float> doses_;
};

/// So many seasons are enough for a usual one.
inline constexpr int kUsualSeasons = 500;

/// The three clocks of the chain: germination and ripening run in the seedbed's air, rooting in the bench's medium.
/// Unlit, ripening is slowed by short days.
struct ThermalSums {
  Date first;
  int days;
  int seasons;
  ThermalSum germination;
  ThermalSum ripening;
  ThermalSum rooting;
  Frost seedbed_frost;
  Frost bench_frost;

  /// The nearest day that there is.
  [[nodiscard]] int day(Date date) const { return std::clamp(static_cast<int>((date - first).count()), 0, days); }
};

/// Hourly: outdoor temperature by climate::hourly_shape, the position's air by shelter, the species' response, summed.
/// Cost: about 35 us a season of 400 days.
[[nodiscard]] ThermalSums thermal_sums(const Goal& goal, const climate::WeatherSeasons& weather,
                                       const Workers& workers);

}  // namespace strikebed::season
