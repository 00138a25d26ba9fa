#pragma once
// What stands in the way of a goal, or makes it need more seed than it would otherwise: each bound of the goal is moved
// on its own, both ways where it has two, and the goal is asked again on the same futures.
#include <optional>

#include "base/steps.hpp"
#include "season/model.hpp"
#include "season/plan.hpp"
#include "season/sowing_sweep.hpp"

namespace strikebed::season {

/// How long after the goal's date (or the end of the first winter) a later one is looked for.
inline constexpr int kLatestLater_days = 240;

/// A goal that even the best plan meets less often than this is left unsown.
inline constexpr double kWorthSowing = 0.1;

/// More sureness that is worth naming.
inline constexpr double kHelps = 0.03;

/// A goal, possibly changed, asked on few of a model's futures.
struct Asked {
  std::optional<int> seeds;
  double best_chance = 0;
};

/// The plan's own day first, then eight of the range: a change may want another day.
[[nodiscard]] std::vector<int> days_to_try(std::optional<int> own_day, SowingRange range);

/// Asks a changed goal what it would need on some days; the fewest of all, or the most that any can do.
///   sums   warmth of the changed goal's positions in the model's weather
///   limit  more seeds are no answer
[[nodiscard]] Asked ask_changed(const Model& model, const Goal& goal, const std::shared_ptr<const ThermalSums>& sums,
                                const std::vector<int>& days, const Workers& workers, int limit);

/// Fills plan.limits: of a goal out of reach with each thing that, if it alone were lifted, would bring it within reach
/// of a sensible number of seeds or make it surer; of one that is met with what would save a tenth of its seeds or
/// more. Those that help most come first. Says how much is done, 0 to 1.
///   own_day  the plan's sowing day
[[nodiscard]] Steps<double> name_limits(const Model& model, const climate::WeatherSeasons& weather,
                                        std::optional<int> own_day, Workers workers, Plan& plan);

/// A plan without sowing: no dates, nothing to buy.
void leave_unsown(const Goal& goal, Plan& plan);

}  // namespace strikebed::season
