#pragma once
// Why a goal cannot be met, and the nearest one that can.
#include <span>

#include "season/model.hpp"
#include "season/plan.hpp"
#include "season/sowing_sweep.hpp"

namespace strikebed::season {

/// No day to sow or no session of use: says so in plan.limits.
void explain_empty_season(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions, SowingRange range,
                          Plan& plan);

/// Fills plan.limits (each thing that, if it alone were lifted, would bring the goal within reach; or, when none alone
/// does, those that help) and plan.nearest.
///   best_chance  the most that can be had on `sow_days` as the goal stands
void explain_unmet(const Model& model, const std::vector<int>& sow_days, double best_chance, SowingRange range,
                   const Workers& workers, Plan& plan);

}  // namespace strikebed::season
