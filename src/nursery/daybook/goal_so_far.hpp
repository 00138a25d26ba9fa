#pragma once
// A goal and the daybook: which goal is meant, and what the seasons before it have taught.
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/workers.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/seasons.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/goal_weather.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

struct DaybookRequest {
  std::optional<Text> goal;     ///< instead of the last one in the daybook
  std::optional<Text> weather;  ///< a record instead of the goal's own weather
  Date today;                   ///< what was noted before this day is known
  std::uint64_t random_seed = 1;
  Workers workers = {};
};

struct GoalSoFar {
  GoalFile file;                            ///< as it is written
  std::string name;                         ///< in the daybook; empty: the goal is from elsewhere
  std::optional<daybook::EntryId> id = {};  ///< of it
  SeasonDays season;                        ///< its own
  GoalWeather weather;
  season::Goal goal;  ///< with what the past seasons teach
  std::vector<PastSeason> past;
  std::vector<std::string> remarks;
};

/// Errors: no goal; those of the goal file, the profiles and the weather.
[[nodiscard]] Result<GoalSoFar> goal_so_far(const DaybookRequest& request, daybook::Fold& fold, const Library& library);

}  // namespace strikebed::nursery
