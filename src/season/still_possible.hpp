#pragma once
// What can still be done about a goal that would not be met: each step alone, and how sure the goal would be then.
#include <optional>
#include <vector>

#include "season/forecast.hpp"

namespace strikebed::season {

enum class StepKind {
  sow,           ///< `seeds` more on `date`
  strike_more,   ///< room for all that are ripe, at every session
  more_sessions  ///< on every day
};
struct CuttingsMore {
  Date on;
  int number;
  bool operator==(const CuttingsMore&) const = default;
};
struct PossibleStep {
  StepKind kind{};
  Date date = {};
  std::optional<Date> chill_from = {};  ///< to sow seed that must lie in the cold before
  int seeds = 0;
  std::vector<CuttingsMore> cuttings = {};  ///< strike_more: than there is room for, in the middle of the futures
  double assurance = 0;
  double more_plants = 0;  ///< on the mean, all wants together
  bool operator==(const PossibleStep&) const = default;
};
struct StillPossible {
  std::vector<PossibleStep> steps;  ///< those that help
  std::optional<Date> last_sowing;  ///< on which sowing more still meets the goal; nothing: none would
  bool operator==(const StillPossible&) const = default;
};

/// Looks at room, session days and sowing days, one after the other, in a quarter of the futures; and at what is best
/// sown in all of them. Nothing where the goal is met.
///   forecast  of the study
[[nodiscard]] StillPossible still_possible(Study& study, const Forecast& forecast);

}  // namespace strikebed::season
