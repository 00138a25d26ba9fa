#include "season/session_days.hpp"

#include <algorithm>
#include <cmath>

namespace strikebed::season {

SessionDays session_days(const Goal& goal, const ThermalSums& sums) {
  const std::vector<double> usual = sums.rooting.usual(sums.seasons);
  const auto brings = [&](int from, int to) {
    return usual[static_cast<std::size_t>(std::clamp(to, 0, sums.days))] - usual[static_cast<std::size_t>(from)];
  };
  const double median = goal.species.rooting_time.typical();
  const double slow = median * std::exp(kScore95 * goal.species.rooting_spread.typical());
  const double quickest = goal.species.rooting_time.quantity.low * std::exp(-3 * goal.species.rooting_spread.typical());
  const int life = goal.species.unrooted_life();
  const Date last = goal.reaches(Rung::winter) ? goal.winter_starts : goal.by;
  const int last_day = static_cast<int>((last - sums.first).count());
  const int weaned_in = goal.reaches(Rung::weaning) ? static_cast<int>(goal.species.weaning_days.quantity.low) : 0;
  SessionDays sessions;
  for (int d = 1; d <= std::min(last_day, sums.days - 1); ++d) {
    const Date date = sums.first + Days{d};
    if (date <= goal.today || std::ranges::count(goal.sessions.not_on, date) > 0) continue;
    if (goal.sessions.dates) {
      if (std::ranges::count(*goal.sessions.dates, date) > 0) sessions.day.push_back(d);
      continue;
    }
    if (!goal.sessions.weekdays[static_cast<std::size_t>(weekday_of(date) - 1)]) continue;
    if (brings(d, std::max(last_day - weaned_in, d)) < quickest) break;
    if (brings(d, d + life) < slow) {
      sessions.held_up_by_cold |= sessions.day.empty();
      continue;
    }
    sessions.day.push_back(d);
  }
  return sessions;
}

}  // namespace strikebed::season
