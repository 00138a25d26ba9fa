#include "season/session_days.hpp"

#include <algorithm>
#include <cmath>

#include "season/strike_rule.hpp"

namespace strikebed::season {
namespace {

int last_day_of(const Goal& goal, const ThermalSums& sums) {
  return static_cast<int>((goal.ready_by() - sums.first).count());
}

/// Whether any season brings so much warmth for rooting from a day on until another.
bool any_season_brings(const ThermalSums& sums, double needed, int from, int to) {
  for (int season = 0; season < sums.seasons; ++season) {
    const float* const clock = sums.rooting.season(season);
    if (static_cast<double>(clock[std::clamp(to, from, sums.days)] - clock[from]) >= needed) return true;
  }
  return false;
}

bool allows(const Sessions& sessions, Rhythm rhythm, Date date) {
  if (sessions.dates) return std::ranges::count(*sessions.dates, date) > 0;
  if (!sessions.days_said) return falls_on(rhythm, date);
  return sessions.weekdays[static_cast<std::size_t>(weekday_of(date) - 1)];
}

}  // namespace

bool falls_on(Rhythm rhythm, Date date) {
  constexpr std::int64_t kFirstSaturday = 2;  // days since the beginning of 1970
  const std::int64_t days = date.time_since_epoch().count() - kFirstSaturday;
  switch (rhythm) {
    case Rhythm::four_weeks:
      return days % 28 == 0;
    case Rhythm::three_weeks:
      return days % 21 == 0;
    case Rhythm::two_weeks:
      return days % 14 == 0;
    case Rhythm::week:
      return days % 7 == 0;
    case Rhythm::half_week:
      return days % 7 == 0 || (days + 3) % 7 == 0;
    case Rhythm::day:
      break;
  }
  return true;
}

SessionDays session_days(const Goal& goal, const ThermalSums& sums, const BenchHabit& habit) {
  const growth::Species& species = goal.species;
  const double quickest = species.rooting_time.quantity.low * std::exp(-3 * species.rooting_spread.typical());
  const int weaned_in = goal.reaches(Rung::weaning) ? static_cast<int>(species.weaning_days.quantity.low) : 0;
  const int last_day = last_day_of(goal, sums);
  SessionDays sessions;
  for (int d = 1; d <= std::min(last_day, sums.days - 1); ++d) {
    const Date date = sums.first + Days{d};
    if (date < goal.today || std::ranges::count(goal.sessions.not_on, date) > 0) continue;
    if (!allows(goal.sessions, habit.rhythm, date) ||
        !any_season_brings(sums, quickest, d, std::min(last_day - weaned_in, d + species.unrooted_life())))
      continue;
    sessions.day.push_back(d);
  }
  return with_patience(std::move(sessions), goal, sums, habit.patience);
}

SessionDays with_patience(SessionDays sessions, const Goal& goal, const ThermalSums& sums, double patience) {
  sessions.strike_from = strike_places(sessions.day, goal, sums, patience);
  return sessions;
}

}  // namespace strikebed::season
