#pragma once
// When something is to be looked for in what is sown and struck: days of a season so far.
#include <vector>

#include "season/observed.hpp"
#include "season/plan.hpp"
#include "season/study.hpp"

namespace strikebed::season {

/// Of one of the goal's own sowings, over the futures.
struct SowingMilestones {
  DateSpread first_up;  ///< one in twenty of those that come up
  DateSpread all_up;    ///< nineteen in twenty
  DateSpread ready;     ///< the first that come up begin to be ripe
};
/// Of a strike; of those that root in the end.
struct StrikeMilestones {
  DateSpread first_rooted;  ///< one in ten
  DateSpread most_rooted;   ///< nine in ten
  DateSpread weaned;        ///< half of them: in open air
};

///   study  of what was seen
[[nodiscard]] std::vector<SowingMilestones> milestones_of_sowings(const Study& study);
[[nodiscard]] std::vector<StrikeMilestones> milestones_of_strikes(const Study& study, const Observed& seen);

}  // namespace strikebed::season
