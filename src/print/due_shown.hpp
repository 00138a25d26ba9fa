#pragma once
// What falls due, as it is shown.
#include <optional>
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// In the order of the season.
enum class DueKind {
  chill,           ///< `number` seeds, for the sowing on `since`
  sow,             ///< `number` seeds
  count_emerged,   ///< how many are up
  look_at_stems,   ///< how many show each sign
  make_ready,      ///< for the session on the next day: `number` containers, `solution_ml`
  strike,          ///< `cuttings`
  look_for_roots,  ///< in what was struck on `since`
  wean,            ///< what has roots
  new_solution,    ///< of the one that is past its day
  shelter,         ///< from the winter
  count_plants     ///< alive, and with a good foot
};

struct Due {
  DueKind kind{};
  Date from, until;           ///< both may still be in time
  std::string code = {};      ///< of the batch
  std::string name = {};      ///< of the lot, the solution
  std::optional<Date> since;  ///< sown or struck, or looked at last, where it was
  std::optional<int> number = {};
  season::Spread cuttings = {};
  double solution_ml = 0;
  bool operator==(const Due&) const = default;
};

struct DueShown {
  const season::Goal& goal;
  std::string goal_name;  ///< in the daybook; empty: the goal is from elsewhere
  Date today;
  std::vector<Due> due;  ///< by day
  bool has_plan = true;  ///< a plan of the goal is in the daybook
  int contradictions = 0;
  std::vector<std::string> remarks;
};

inline constexpr Days kDueAhead{7};  ///< what begins later is not shown, but for the next thing where nothing is due

[[nodiscard]] std::string due_text(const DueShown& shown, int width);
[[nodiscard]] std::string due_json(const DueShown& shown);

}  // namespace strikebed::print
