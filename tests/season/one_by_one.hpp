#pragma once
// A season one seedling at a time: the yardstick that the engine is held against. As plain as possible, and with none
// of the engine's mathematics: no cohorts, no groups, no matched binomials, no spread points. The two share the goal,
// the course of warmth and the session days, nothing else.
#include <cstdint>
#include <span>
#include <vector>

#include "season/goal.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season::one_by_one {

/// Seeds sown on one day.
struct SownSeeds {
  int day;  ///< index into the thermal sums; in the warmth from that morning
  int seeds;
};

struct Outcome {
  double met = 0;               ///< share of seasons in which all wants were met
  double error = 0;             ///< its standard error, sqrt(p (1 - p) / seasons)
  std::vector<double> by_want;  ///< share of seasons in which each want was
  std::vector<double> counted;  ///< mean number of plants counted, per want
};

/// Lives through `seasons` independent seasons.
///   session_days  ascending indexes into the thermal sums
///   shares        of the accepted seedlings, per want; they sum to one
[[nodiscard]] Outcome simulate(const Goal& goal, const ThermalSums& sums, std::span<const int> session_days,
                               std::span<const SownSeeds> sowings, std::span<const double> shares, int seasons,
                               std::uint64_t random_seed);

}  // namespace strikebed::season::one_by_one
