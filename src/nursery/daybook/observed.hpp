#pragma once
// What a daybook says of one season, as the season engine reads it.
#include <string>
#include <vector>

#include "daybook/fold.hpp"
#include "season/goal.hpp"
#include "season/observed.hpp"

namespace strikebed::nursery {

struct SeasonSeen {
  std::vector<season::Sown> sown;  ///< the season's sowings, in place of those of the goal
  season::Observed observed;       ///< of them
  int entries = 0;                 ///< that say so
  std::vector<std::string> remarks;
};

/// Sowings from `from` until the goal's `today`, and what was struck in that time: a batch of seeds or seedlings is its
/// own sowing, with all that was split off from it; a batch of cuttings is one strike. What is said of batches of which
/// none of these is known (pooled ones, from elsewhere) is left out, with a remark.
///   fold  as it stood at the end of the day before `today`
[[nodiscard]] SeasonSeen season_seen(const season::Goal& goal, Date from, daybook::Fold& fold);

}  // namespace strikebed::nursery
