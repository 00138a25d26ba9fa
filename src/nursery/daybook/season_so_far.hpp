#pragma once
// A goal's season so far: what was seen of it, and a study that knows it.
#include <memory>

#include "nursery/daybook/goal_so_far.hpp"
#include "nursery/daybook/observed.hpp"
#include "season/study.hpp"

namespace strikebed::nursery {

struct SeasonSoFar {
  GoalSoFar goal_so_far;                 ///< its goal has the season's own sowings
  SeasonSeen seen;                       ///< the goal's sowings are these
  season::WeatherSpan span{};            ///< of the study
  std::unique_ptr<season::Study> study;  ///< null: the goal's date is past

  [[nodiscard]] const season::Goal& goal() const { return goal_so_far.goal; }
};

/// Errors: those of goal_so_far; weather that no season can be made of.
[[nodiscard]] Result<SeasonSoFar> season_so_far(const DaybookRequest& request, daybook::Fold& fold,
                                                const Library& library);

}  // namespace strikebed::nursery
