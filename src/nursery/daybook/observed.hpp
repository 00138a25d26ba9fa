#pragma once
// What a daybook says of one season, as the season engine reads it.
#include <set>
#include <string>
#include <vector>

#include "daybook/fold.hpp"
#include "season/goal.hpp"
#include "season/observed.hpp"

namespace strikebed::nursery {

/// The days of a season: from the first to the day before the other.
struct SeasonDays {
  Date from, until;
  bool operator==(const SeasonDays&) const = default;
};

struct SeasonSeen {
  std::vector<season::Sown> sown;             ///< the season's sowings, in place of those of the goal
  season::Observed observed;                  ///< of them
  std::vector<daybook::EntryId> sown_as;      ///< [sowing], the batch
  std::vector<daybook::EntryId> struck_into;  ///< [strike], the batch
  std::set<daybook::EntryId> entries;         ///< that say so
  std::vector<std::string> remarks = {};
};

/// What was sown and what was struck in a season, and what was noted of it before the goal's `today`: a batch of seeds
/// or seedlings is its own sowing, with all that was split off from it; a batch of cuttings is one strike. What is said
/// of batches of which none of these is known (pooled ones, from elsewhere), and of cuttings by a method that the goal
/// does not want, is left out, with a remark.
[[nodiscard]] SeasonSeen season_seen(const season::Goal& goal, SeasonDays days, daybook::Fold& fold);

}  // namespace strikebed::nursery
