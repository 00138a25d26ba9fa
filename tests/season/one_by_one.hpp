#pragma once
// A season one seedling at a time: the yardstick that the engine is held against. As plain as possible, and with none
// of the engine's mathematics: no cohorts, no groups, no matched binomials, no spread points. The two share the goal,
// the course of warmth, the session days and the numbers of the strike rule, nothing else.
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "season/goal.hpp"
#include "season/session_days.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season::one_by_one {

/// Seeds sown on one day.
struct SownSeeds {
  int day;  ///< index into the thermal sums; in the warmth from that morning
  int seeds;
  std::size_t seed = 0;  ///< 0: of the goal's lot; i: as the i-th of its own sowings
};

struct Outcome {
  double met = 0;               ///< share of seasons in which all wants were met
  double error = 0;             ///< its standard error, sqrt(p (1 - p) / seasons)
  std::vector<double> by_want;  ///< share of seasons in which each want was
  std::vector<double> counted;  ///< mean number of plants counted, per want
};

/// Lives through `seasons` independent seasons.
///   shares  of the accepted seedlings, per want; they sum to one
[[nodiscard]] Outcome simulate(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions,
                               std::span<const SownSeeds> sowings, std::span<const double> shares, int seasons,
                               std::uint64_t random_seed);

inline constexpr double kStands = std::numeric_limits<double>::infinity();

/// A seedling that came up.
struct Life {
  int up;       ///< the day, as an index into the thermal sums
  double gone;  ///< lost to the standing losses; kStands: never
  /// On the morning of a day.
  [[nodiscard]] bool alive_on(int day) const { return up < day && gone > day; }
};
/// First mornings on which a seedling could be cut, and no longer could.
struct Window {
  int opens;
  int closes;
};
/// What could be seen of one season.
struct Seen {
  std::vector<Life> lives;      ///< of all that came up
  std::vector<Window> windows;  ///< of those found usable at their first session
  std::vector<int> struck;      ///< at each session
  std::vector<int> rooted;      ///< of each cutting that rooted in time, the day by whose morning it had
  std::vector<int> counted;     ///< plants, per want
};

/// The seasons that simulate() lives through, one by one.
[[nodiscard]] std::vector<Seen> look_on(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions,
                                        std::span<const SownSeeds> sowings, std::span<const double> shares, int seasons,
                                        std::uint64_t random_seed);

}  // namespace strikebed::season::one_by_one
