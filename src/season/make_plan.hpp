#pragma once
// A whole plan, stage by stage, asked of a study.
#include <functional>

#include "base/steps.hpp"
#include "season/plan.hpp"
#include "season/study.hpp"

namespace strikebed::season {

/// What a plan is being made of.
enum class PlanPart { warmth, quick_look, sowing_dates, seed_number, nearest_goal, sessions, limits, unknowns, done };

struct PlanStep {
  double done = 0;  ///< share of the work, 0 to 1
  PlanPart part = PlanPart::warmth;
};

/// Makes the plan of a study's goal. After every step `plan` holds what its stage says; whoever wants no more takes no
/// more. Asked again after a change of the goal it begins with the sowing days of before: quickly, then exactly; the
/// best days may be others by then. A goal that cannot be met is an answer with met == false.
///   study, plan  must outlive the steps; what `plan` held is lost
[[nodiscard]] Steps<PlanStep> plan_in_steps(Study& study, Plan& plan);

struct PlanOptions {
  std::uint64_t seed = 1;
  Workers workers;  ///< lent threads; the answer does not depend on how many
  std::function<void(PlanStep)> progress;
};

/// The same at once, for a goal that is asked once.
///   weather  of weather_span(goal)
[[nodiscard]] Plan make_plan(const Goal& goal, const climate::WeatherSeasons& weather, const PlanOptions& options);

}  // namespace strikebed::season
