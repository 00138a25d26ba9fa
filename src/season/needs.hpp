#pragma once
// What the season takes: seed, containers, medium, sand, solution, labels, bench, hours, money.
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// Seconds at the bench for one cutting by a method's own timings: cut, soak and set a group, shared among it.
[[nodiscard]] double seconds_per_cutting(const growth::Method& method);

/// Fills plan.needs and the sessions' hours from the cuttings to be ready for (95 % points) in plan.sessions and
/// plan.needs.wants, which the timetable has filled.
void fill_needs(const Goal& goal, Plan& plan);

}  // namespace strikebed::season
