#pragma once
// What a season teaches of the values of a profile: what is believed of each afterwards, and how many it was learnt
// from. docs/methods/forecast.md
#include <cstddef>
#include <optional>
#include <vector>

#include "base/workers.hpp"
#include "climate/seasons.hpp"
#include "season/chain_quantity.hpp"
#include "season/goal.hpp"
#include "season/observed.hpp"

namespace strikebed::season {

struct LearntTiming {
  ChainQuantity quantity;
  ProfileValue growth::Species::* of;
  Quantity value;
  int counted;  ///< seeds, seedlings or cuttings
};
struct LearntRate {
  Rung rung;
  std::optional<std::size_t> want;  ///< whose own it is; nothing: one for all
  Ranged rate;                      ///< in the long run, median always there
  int counted;
};
struct LearntValues {
  std::vector<LearntTiming> timings;
  std::vector<LearntRate> rates;
};

/// Only values that were not known exactly and of which something was counted. A rate of germination only where the
/// seed was of the goal's own lot.
///   goal     of which it was seen; its `today` may lie after its date
///   weather  from the first sowing or strike to `today` and longer; thermal times are those of its usual season
[[nodiscard]] LearntValues learnt_values(const Goal& goal, const climate::WeatherSeasons& weather, const Observed& seen,
                                         const Workers& workers);

/// Makes them what the goal believes, and adds to what its values were learnt from. Batches differ as before.
void believe(const LearntValues& learnt, Goal& goal);

}  // namespace strikebed::season
