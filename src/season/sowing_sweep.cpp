#include "season/sowing_sweep.hpp"

#include <algorithm>
#include <cmath>

#include "climate/sun.hpp"
#include "growth/stages.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr int kStillPossible = 3;  // times the fewest seeds: more than that nobody sows
constexpr int kIdleDays = 4;       // sown so many days later, seed that lies cold comes up one day later at most
constexpr double kAsGood = 1.02;   // within 2 % of the fewest seeds is as good

SowingPoint ask(const Model& model, int day) {
  const std::vector<Sowing> sowing{model.sowing(day)};
  const SeedAnswer answer = seeds_for(model, sowing, model.goal().assurance, kMostSeeds, Precision::quick);
  return {model.sums().first + Days{day}, answer.seeds, answer.best_chance};
}

bool too_dark(const Goal& goal, Date date) {
  return !goal.seedbed_lit &&
         climate::day_length_h(goal.site.latitude_deg, day_of_year(date)) < goal.species.shortest_day_h.typical();
}

/// When half of the seed has come up in the usual season, by sowing day.
class UsualEmergence {
 public:
  explicit UsualEmergence(const Model& model)
      : clock_(model.sums().germination.usual(std::min(model.sums().seasons, kSeasons))) {
    const Goal& goal = model.goal();
    const growth::Species& species = goal.species;
    needed_ = species.cover_time.typical() + species.germination_time.typical() *
                                                 growth::chilling_factor(goal.chill_days, species.chill_days.typical(),
                                                                         species.unchilled_time_factor.typical());
  }
  [[nodiscard]] std::int64_t day(int sow_day) const {
    return std::ranges::lower_bound(clock_, clock_[static_cast<std::size_t>(sow_day)] + needed_) - clock_.begin();
  }

 private:
  static constexpr int kSeasons = 500;  // are enough for a mean
  std::vector<double> clock_;
  double needed_;
};

}  // namespace

SowingRange sowing_range(const Goal& goal, const ThermalSums& sums) {
  const auto index = [&](Date date) { return static_cast<int>((date - sums.first).count()); };
  const int last = std::min(index(goal.by) - 1, sums.days - 1);
  if (goal.sow_on) return {index(*goal.sow_on), std::min(index(*goal.sow_on), last)};
  return sowing_again_range(goal, sums);
}

SowingRange sowing_again_range(const Goal& goal, const ThermalSums& sums) {
  const auto index = [&](Date date) { return static_cast<int>((date - sums.first).count()); };
  const int last = std::min(index(goal.by) - 1, sums.days - 1);
  int first = std::max(index(goal.today) + goal.chill_days, 0);
  if (goal.sow_not_before) {
    first = std::max(first, index(*goal.sow_not_before));
  } else {
    while (first <= last && too_dark(goal, sums.first + Days{first})) ++first;
  }
  return {first, last};
}

bool held_up_by_short_days(const Goal& goal, const ThermalSums& sums, SowingRange range) {
  return !goal.sow_on && !goal.sow_not_before && range.first <= range.last &&
         sums.first + Days{range.first} > goal.today + Days{goal.chill_days} &&
         too_dark(goal, sums.first + Days{range.first - 1});
}

SowingSweep sweep_sowings(const Model& model, int comb, const Workers& workers,
                          const std::function<void(double)>& progress) {
  SowingRange range = sowing_again_range(model.goal(), model.sums());
  const SowingRange own = sowing_range(model.goal(), model.sums());
  if (range.first > range.last) range = own;
  SowingSweep sweep;
  sweep.surest_day = range.first;
  if (range.first > range.last) return sweep;
  const int span = range.last - range.first;
  const int step = std::max((span + comb - 1) / comb, 1);
  std::vector<int> days;
  for (int day = range.first; day <= range.last; day += step) days.push_back(day);
  std::vector<SowingPoint> points(days.size());
  const int hands = std::max(workers.hands, 1);
  for (std::size_t done = 0; done < days.size(); done += static_cast<std::size_t>(hands)) {
    const auto jobs = static_cast<int>(std::min(static_cast<std::size_t>(hands), days.size() - done));
    workers.run(jobs, [&](int job) {
      const std::size_t i = done + static_cast<std::size_t>(job);
      points[i] = ask(model, days[i]);
    });
    if (progress)
      progress(static_cast<double>(done + static_cast<std::size_t>(jobs)) / static_cast<double>(days.size()));
  }
  const auto day_of = [&](const SowingPoint& point) {
    return static_cast<int>((point.sow - model.sums().first).count());
  };
  const auto add = [&](int day) -> const SowingPoint& {
    const Date date = model.sums().first + Days{day};
    auto place = std::ranges::lower_bound(points, date, {}, &SowingPoint::sow);
    if (place == points.end() || place->sow != date) place = points.insert(place, ask(model, day));
    return *place;
  };
  int fewest = kMostSeeds + 1;
  int fewest_day = 0;
  for (const SowingPoint& point : points) {
    if (point.seeds && *point.seeds < fewest) {
      fewest = *point.seeds;
      fewest_day = day_of(point);
    }
  }
  if (fewest > kMostSeeds) {
    const auto surest = std::ranges::max_element(points, {}, &SowingPoint::best_assurance);
    sweep.surest_day = day_of(*surest);
    if (model.goal().sow_on) add(own.first);
    sweep.points = points;
    return sweep;
  }
  // Around the fewest, a finer look; then the earliest day that is as good.
  for (int finer = step / 2; finer >= 1; finer /= 2) {
    for (const int day : {fewest_day - finer, fewest_day + finer}) {
      if (day < range.first || day > range.last) continue;
      const SowingPoint point = add(day);
      if (point.seeds && *point.seeds < fewest) {
        fewest = *point.seeds;
        fewest_day = day;
      }
    }
  }
  const auto as_good = [&](const SowingPoint& point) {
    return point.seeds && *point.seeds <= static_cast<int>(std::floor(fewest * kAsGood));
  };
  int good = fewest_day;
  int worse = range.first - 1;
  for (const SowingPoint& point : points) {
    if (as_good(point)) {
      good = std::min(good, day_of(point));
      break;
    }
    worse = day_of(point);
  }
  while (good - worse > 1) {
    const int middle = worse + (good - worse) / 2;
    (as_good(add(middle)) ? good : worse) = middle;
  }
  // No sooner than it helps: in a bed too cold to germinate the seed only feeds mice and moulds.
  const UsualEmergence usual(model);
  int later = good;
  while (later < range.last && usual.day(later + 1) - usual.day(good) <= (later + 1 - good) / kIdleDays) ++later;
  for (int step_back = std::max((later - good) / 8, 1); later > good && !as_good(add(later));)
    later = std::max(later - step_back, good);
  sweep.best_day = later;
  // The last day that still can.
  const auto possible = [&](const SowingPoint& point) {
    return point.seeds && *point.seeds <= kStillPossible * fewest;
  };
  int can = fewest_day;
  int cannot = range.last + 1;
  for (const SowingPoint& point : points) {
    if (possible(point)) can = std::max(can, day_of(point));
  }
  for (const SowingPoint& point : points) {
    if (day_of(point) > can) {
      cannot = day_of(point);
      break;
    }
  }
  while (cannot - can > 1) {
    const int middle = can + (cannot - can) / 2;
    (possible(add(middle)) ? can : cannot) = middle;
  }
  sweep.last_day = can;
  if (model.goal().sow_on) add(own.first);
  sweep.points = points;
  return sweep;
}

std::vector<int> stagger_sowings(const Model& model, int best_day, SowingRange range) {
  std::vector<int> best{best_day};
  const Goal& goal = model.goal();
  if (goal.sessions.sowings_at_most < 2 || !goal.sessions.cuttings_at_most || goal.sow_on) return best;
  const auto needed = [&](const std::vector<int>& days) {
    std::vector<Sowing> sowings;
    for (std::size_t i = 0; i < days.size(); ++i) sowings.push_back(model.sowing(days[i], static_cast<int>(i)));
    return seeds_for(model, sowings, goal.assurance, kMostSeeds, Precision::quick).seeds.value_or(kMostSeeds + 1);
  };
  int fewest = needed(best);
  for (int sowings = 2; sowings <= goal.sessions.sowings_at_most; ++sowings) {
    std::vector<int> better;
    int fewer = fewest;
    for (const int apart : {7, 14, 21}) {
      for (const int shift : {0, -apart * (sowings - 1) / 2, -apart * (sowings - 1)}) {
        std::vector<int> days;
        for (int i = 0; i < sowings; ++i) days.push_back(best_day + shift + i * apart);
        if (days.front() < range.first || days.back() > range.last) continue;
        const int seeds = needed(days);
        if (seeds < fewer) {
          fewer = seeds;
          better = days;
        }
      }
    }
    if (better.empty() || fewer * kAsGood > fewest) break;
    fewest = fewer;
    best = better;
  }
  return best;
}

}  // namespace strikebed::season
