#pragma once
// The seasons of a daybook, by the goals that were set for them, and what the past ones teach.
#include <cstdint>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "base/workers.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/observed.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/goal_weather.hpp"
#include "nursery/library.hpp"
#include "print/forecast_shown.hpp"
#include "season/goal.hpp"
#include "season/learnt_values.hpp"

namespace strikebed::nursery {

/// A goal of the daybook, as it was read on the day on which it was set.
struct GoalNoted {
  daybook::EntryId id;
  Date set_on;
  std::string name;
  std::string text;
  Result<GoalFile> file;
};
/// Those that were set until a day, that day included, by when.
[[nodiscard]] std::vector<GoalNoted> goals_noted(Date until, daybook::Fold& fold, const Library& library);

/// The season of a goal that is to be met by a day: from the date of the goal before it, or 18 months before its own.
[[nodiscard]] SeasonDays season_of(Date by, const std::vector<GoalNoted>& goals);

/// What was foretold of a goal before a day, by date.
[[nodiscard]] std::vector<print::EarlierForecast> forecasts_of(const daybook::EntryId& goal, Date before,
                                                               daybook::Fold& fold);

/// A season before the goal's own.
struct PastSeason {
  SeasonDays days;
  std::vector<print::EarlierForecast> foretold;
  std::optional<int> came_true;        ///< plants that count, all wants together; nothing: nobody counted them
  std::set<daybook::EntryId> entries;  ///< that say what is known of it
  season::LearntValues learnt;         ///< nothing: the goal's own profile holds it already
};

/// What the past seasons of a daybook teach, one after the other: each is read with what was believed before it, and
/// with the methods of the goal.
///   goal     its `today` is set; believes what was learnt afterwards. Seasons that its own profile has absorbed are
///   not
///            read again
///   weather  of the goal; days that are not in its record count as usual
/// Errors: weather that no season can be made of.
[[nodiscard]] Result<std::vector<PastSeason>> learn_from_past(season::Goal& goal, const std::vector<GoalNoted>& goals,
                                                              const GoalWeather& weather, daybook::Fold& fold,
                                                              const Workers& workers, std::uint64_t random_seed);

/// Which entries these are of.
[[nodiscard]] growth::Absorbed absorbed_of(const std::vector<PastSeason>& seasons, Date today);

}  // namespace strikebed::nursery
