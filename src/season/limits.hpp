#pragma once
// What stands in the way of a goal, or makes it need more seed than it would otherwise: each bound of the goal is moved
// on its own, both ways where it has two, and the goal is asked again on the same futures.
#include <optional>
#include <vector>

#include "base/steps.hpp"
#include "season/model.hpp"
#include "season/plan.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// The last date that is looked at where the goal's own is too soon: 240 days later, or when the next winter is over.
[[nodiscard]] Date last_later_date(const Goal& goal);

/// A goal that even the best plan meets less often than this is left unsown.
inline constexpr double kWorthSowing = 0.1;

/// More sureness that is worth naming.
inline constexpr double kHelps = 0.03;

/// Fills plan.limits: of a goal out of reach with each thing that, if it alone were lifted, would bring it within reach
/// of a sensible number of seeds or make it surer; of one that is met with what would save a tenth of its seeds or
/// more. Those that help most come first. Says how much is done, 0 to 1.
///   own_day  the plan's sowing day
[[nodiscard]] Steps<double> name_limits(const Model& model, const climate::WeatherSeasons& weather,
                                        std::optional<int> own_day, Workers workers, Plan& plan);

/// Sorts: fewest seeds first, then most sureness, then what it does not help to lift.
void most_help_first(std::vector<Limit>& limits);

/// A plan without sowing: no dates, nothing to buy.
void leave_unsown(const Goal& goal, Plan& plan);

}  // namespace strikebed::season
