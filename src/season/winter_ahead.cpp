#include "season/winter_ahead.hpp"

#include <algorithm>

namespace strikebed::season {

Goal with_date(Goal goal, Date by) {
  goal.by = by;
  const auto next = [](Date date) { return same_day_in(date, year_of(date) + 1); };
  while (next(goal.winter_ends) <= by) {
    goal.winter_starts = next(goal.winter_starts);
    goal.winter_ends = next(goal.winter_ends);
  }
  return goal;
}

WinterAhead::WinterAhead(const Goal& goal, const ThermalSums& sums)
    : all_(goal.reaches(Rung::winter)),
      starts_(static_cast<double>((goal.winter_starts - sums.first).count())),
      ends_(static_cast<double>((goal.winter_ends - sums.first).count())),
      rooting_time_(goal.species.rooting_time.typical()),
      weaning_days_(goal.species.weaning_days.typical()) {
  if (!all_ && goal.may_meet_winter()) rooting_ = sums.rooting.usual(std::min(sums.seasons, kUsualSeasons));
}

double WinterAhead::part(int struck) const {
  if (all_) return 1;
  if (rooting_.empty() || struck >= ends_) return 0;
  const double rooted = rooting_[static_cast<std::size_t>(struck)] + rooting_time_;
  const auto weaned =
      static_cast<double>(std::ranges::lower_bound(rooting_, rooted) - rooting_.begin()) + weaning_days_;
  return std::clamp((ends_ - weaned) / (ends_ - starts_), 0.0, 1.0);
}

}  // namespace strikebed::season
