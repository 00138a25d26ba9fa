#pragma once
// The use case "what to do now": what falls due, from a goal, its plan and the daybook.
#include <string>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/goal_so_far.hpp"
#include "nursery/library.hpp"
#include "print/due_shown.hpp"

namespace strikebed::nursery {

struct TodayAnswer {
  season::Goal goal;
  std::string goal_name;
  std::vector<print::Due> due;
  bool has_plan = false;
  int contradictions = 0;
  std::vector<std::string> remarks;
};

/// Everything that is not done yet, by day. Dates of what was sown and struck are those of the forecast: the weather so
/// far and what was learnt; sowings to come are those of the plan that was noted last for the goal. What was noted
/// today is done; for the dates only what was noted before today counts. Errors: those of goal_so_far.
[[nodiscard]] Result<TodayAnswer> today(const DaybookRequest& request, daybook::Fold& fold, const Library& library);

[[nodiscard]] std::string words_of(const TodayAnswer& answer, int width);
[[nodiscard]] std::string json_of(const TodayAnswer& answer);

}  // namespace strikebed::nursery
