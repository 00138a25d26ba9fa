#pragma once
// The nearest goal that can be met, of one that cannot.
#include <optional>

#include "base/steps.hpp"
#include "season/model.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// Fills plan.nearest with the earliest later date that takes at most three times the seeds of the last, and, given a
/// sowing day, with the largest counts in the same proportion that take at most twice the seeds a plant of an easy one;
/// and plan.limits with the date, where a later one helps or nothing else does. Says how much is done, 0 to 1.
///   own_day      the plan's sowing day; nothing: there is none, and counts are not looked for
///   best_chance  the most that can be had as the goal stands
[[nodiscard]] Steps<double> find_nearest_goal(const Model& model, std::optional<int> own_day, double best_chance,
                                              Workers workers, Plan& plan);

}  // namespace strikebed::season
