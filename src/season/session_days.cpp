#include "season/session_days.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"

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

/// In the usual season, the share of what is struck at each session that roots while it lives and in time.
std::vector<double> usually_root(const Goal& goal, const ThermalSums& sums, const std::vector<int>& days) {
  const std::vector<double> usual = sums.rooting.usual(sums.seasons);
  const growth::Species& species = goal.species;
  const int weaned_in = goal.reaches(Rung::weaning) ? static_cast<int>(species.weaning_days.typical()) : 0;
  const int last = last_day_of(goal, sums) - weaned_in;
  const double spread = std::hypot(species.rooting_spread.typical(), log_sd_of(species.rooting_time.quantity));
  std::vector<double> shares;
  for (const int day : days) {
    const int until = std::clamp(std::min(last, day + species.unrooted_life()), day, sums.days);
    const double warmth = usual[static_cast<std::size_t>(until)] - usual[static_cast<std::size_t>(day)];
    shares.push_back(warmth > 0 ? normal_share_below(std::log(warmth / species.rooting_time.typical()) / spread) : 0);
  }
  return shares;
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
    if (date <= goal.today || std::ranges::count(goal.sessions.not_on, date) > 0) continue;
    if (!allows(goal.sessions, habit.rhythm, date) ||
        !any_season_brings(sums, quickest, d, std::min(last_day - weaned_in, d + species.unrooted_life())))
      continue;
    sessions.day.push_back(d);
  }
  return with_patience(std::move(sessions), goal, sums, habit.patience);
}

SessionDays with_patience(SessionDays sessions, const Goal& goal, const ThermalSums& sums, double patience) {
  constexpr double kNone = 1e-9;   // of what is struck roots: as good as nothing
  constexpr double kTake = 0.5;    // a logit moves a share of about this size by so much of itself
  constexpr double kStill = 1e-6;  // of the window: nothing ripens between two sessions
  const growth::Species& species = goal.species;
  const std::vector<double> usual = sums.ripening.usual(sums.seasons);
  const std::vector<double> root = usually_root(goal, sums, sessions.day);
  const double window = std::max(species.window_end_time.typical() - species.ripening_time.typical(), 1.0);
  const double edge = (1 - kTake) * 4 * std::max(-std::log(species.edge_odds.typical()), kStill);
  sessions.strike_from.assign(sessions.day.size(), 0);
  for (std::size_t s = 0; s + 1 < sessions.day.size(); ++s) {
    // Waiting pays while what the take gains on the way to the middle, with what rooting gains, is more than it loses:
    // edge * step * (1 - now - next) > -log(root later / root now).
    const double step =
        (usual[static_cast<std::size_t>(sessions.day[s + 1])] - usual[static_cast<std::size_t>(sessions.day[s])]) /
        window;
    const double gain = std::log(std::max(root[s + 1], kNone) / std::max(root[s], kNone));
    const double mean_place = 0.5 * (1 + gain / (edge * std::max(step, kStill)));
    sessions.strike_from[s] = static_cast<float>(patience * std::clamp(mean_place, 0.0, 1.0));
  }
  return sessions;
}

}  // namespace strikebed::season
