#pragma once
// Why a goal cannot be met, or only with far more seeds than it should take, and the nearest one that can.
#include <optional>

#include "season/model.hpp"
#include "season/plan.hpp"
#include "season/sowing_sweep.hpp"

namespace strikebed::season {

/// How long after the goal's date (or the end of the first winter) a later one is looked for.
inline constexpr int kLatestLater_days = 240;

/// A goal that even the best plan meets less often than this is left unsown.
inline constexpr double kWorthSowing = 0.1;

/// Fills plan.limits with each thing that, if it alone were lifted, would bring the goal within reach of a sensible
/// number of seeds or make it surer; for a goal that is not met also the earliest later date, in plan.nearest.
///   own_day     the plan's sowing day
///   chance_now  how sure the goal is as it stands
void name_limits(const Model& model, const climate::WeatherSeasons& weather, std::optional<int> own_day,
                 double chance_now, const Workers& workers, Plan& plan);

/// A plan without sowing: no dates, nothing to buy.
void leave_unsown(const Goal& goal, Plan& plan);

/// No day to sow or no session of use: says so, and leaves the plan unsown.
void explain_empty_season(const Model& model, const climate::WeatherSeasons& weather, SowingRange range,
                          const Workers& workers, Plan& plan);

/// Limits and plan.nearest of a goal that no number of seeds meets.
///   best_chance  the most that can be had on `own_day` as the goal stands
void explain_unmet(const Model& model, const climate::WeatherSeasons& weather, int own_day, double best_chance,
                   const Workers& workers, Plan& plan);

}  // namespace strikebed::season
