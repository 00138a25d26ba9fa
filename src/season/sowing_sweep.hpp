#pragma once
// When to sow: the dates that can be, what each would need, the best and the last.
#include <optional>
#include <span>
#include <vector>

#include "base/steps.hpp"
#include "season/outlook.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// The first and last day, as indexes into the thermal sums, on which sowing can be thought of at all: after chilling
/// (and the goal's own first date), and before the goal's date.
struct SowingRange {
  int first;
  int last;

  [[nodiscard]] bool is_empty() const { return first > last; }
  [[nodiscard]] bool holds(int day) const { return first <= day && day <= last; }
};
[[nodiscard]] SowingRange sowing_range(const Goal& goal, const ThermalSums& sums);

/// The same for sowing again, where the grower has fixed a date or sown already.
[[nodiscard]] SowingRange sowing_again_range(const Goal& goal, const ThermalSums& sums);

struct SowingSweep {
  std::vector<SowingPoint> points;  ///< by date; a coarse comb over the range, finer around best and last
  /// Fewest seeds; among those within 2 % the earliest, or within 8 % a later one while seed only lies cold until then.
  /// Nothing: out of reach on every day.
  std::optional<int> best_day;
  bool waits_for_warmth = false;   ///< the best day is such a later one
  std::optional<int> last_day;     ///< the last day that can still do it, with three times the fewest seeds at most
  std::optional<Stagger> stagger;  ///< why there are not as many sowings as the goal allows
  int surest_day = 0;              ///< most chance with sensible_seeds (when best_day is nothing)
};

/// At most `comb` days of the range, then a bisection for the edges. Where the grower has fixed a date it is among
/// them, and the others are dates to sow again. Says how much is done, 0 to 1; `sweep` is whole at the end.
///   outlook  sowings are kept there; both must outlive the steps
[[nodiscard]] Steps<double> sweep_sowings(Outlook& outlook, int comb, Workers workers, SowingSweep& sweep);

/// A day that needs about as few seeds as any, or is about as sure: from eight days of the range and four around the
/// best of them.
[[nodiscard]] int about_best_day(Outlook& outlook, SowingRange range, const Workers& workers);

/// With so many seeds in hand, the day that makes the most of them: the earliest within 0.005, or a later one as sure
/// while seed only lies cold until then.
[[nodiscard]] int surest_day_for(Outlook& outlook, SowingRange range, int comb, int seeds, const Workers& workers);

/// One sowing on `best_day`, or up to goal.sessions.sowings_at_most when the sessions are overrun and staggering saves
/// at least 2 % of the seeds for each sowing more.
///   why  there are not as many; nothing: there are
[[nodiscard]] std::vector<int> stagger_sowings(const Outlook& outlook, int best_day, SowingRange range,
                                               std::optional<Stagger>& why);

}  // namespace strikebed::season
