#include "season/sowing_sweep.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "growth/stages.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr int kStillPossible = 3;  // times the fewest seeds: more than that nobody sows
constexpr int kIdleDays = 2;       // sown so many days later, seed that lies cold comes up one day later at most
constexpr double kAsGood = 1.02;   // within 2 % of the fewest seeds is as good,
constexpr double kNearly = 1.08;   // and within 8 % where seed then lies in the cold for less
constexpr int kLongInBed = 42;     // days until half is up: longer ones feed mice and moulds; common practice

/// When half of the seed has come up in the usual season, by sowing day.
class UsualEmergence {
 public:
  explicit UsualEmergence(const Model& model)
      : clock_(model.sums().germination.usual(std::min(model.sums().seasons, kUsualSeasons))) {
    const Goal& goal = model.goal();
    const growth::Species& species = goal.species;
    needed_ =
        species.cover_time.typical() +
        species.germination_time.typical() * growth::chilling_factor(goal.lot.chill_days, goal.full_chilling(goal.lot),
                                                                     species.unchilled_time_factor.typical());
  }
  [[nodiscard]] std::int64_t day(int sow_day) const {
    return std::ranges::lower_bound(clock_, clock_[static_cast<std::size_t>(sow_day)] + needed_) - clock_.begin();
  }
  [[nodiscard]] bool is_long_in_bed(int sow_day) const { return day(sow_day) - sow_day > kLongInBed; }

 private:
  std::vector<double> clock_;
  double needed_;
};

/// The days asked about so far, and what each needs.
class Looked {
 public:
  Looked(Outlook& outlook, SowingRange range) : outlook_(outlook), range_(range), sown_(outlook.sowings({})) {}

  [[nodiscard]] const std::vector<SowingPoint>& points() const { return points_; }
  [[nodiscard]] int day_of(const SowingPoint& point) const { return outlook_.model().day(point.sow); }

  /// Asks about several days at once, one for each pair of hands.
  void add(std::span<const int> days, const Workers& workers) {
    std::vector<Sowing> sowings(days.size());
    std::vector<SowingPoint> points(days.size());
    workers.run(static_cast<int>(days.size()), [&](int job) {
      const auto i = static_cast<std::size_t>(job);
      sowings[i] = outlook_.sowing(days[i]);
      points[i] = ask(sowings[i]);
    });
    for (std::size_t i = 0; i < days.size(); ++i) {
      outlook_.keep(sowings[i]);
      put(points[i]);
    }
  }
  SowingPoint at(int day) {
    const Date date = outlook_.model().date(day);
    const auto place = std::ranges::lower_bound(points_, date, {}, &SowingPoint::sow);
    if (place != points_.end() && place->sow == date) return *place;
    const Sowing sowing = outlook_.sowing(day);
    outlook_.keep(sowing);
    return put(ask(sowing));
  }

  struct Fewest {
    int seeds = kMostSeeds + 1;
    int day = 0;
  };
  [[nodiscard]] Fewest fewest() const {
    Fewest found;
    for (const SowingPoint& point : points_) {
      if (point.seeds && *point.seeds < found.seeds) found = {*point.seeds, day_of(point)};
    }
    return found;
  }
  /// The earliest day that `good` says is good, when the days after one are good up to `good_day`.
  template <class Good>
  int earliest(int good_day, const Good& good) {
    int day = good_day;
    int worse = range_.first - 1;
    for (const SowingPoint& point : points_) {
      if (good(point)) {
        day = std::min(day, day_of(point));
        break;
      }
      worse = day_of(point);
    }
    while (day - worse > 1) {
      const int middle = worse + (day - worse) / 2;
      (good(at(middle)) ? day : worse) = middle;
    }
    return day;
  }
  /// The latest day that is good.
  template <class Good>
  int latest(int good_day, const Good& good) {
    int can = good_day;
    int cannot = range_.last + 1;
    for (const SowingPoint& point : points_) {
      if (good(point)) can = std::max(can, day_of(point));
    }
    for (const SowingPoint& point : points_) {
      if (day_of(point) > can) {
        cannot = day_of(point);
        break;
      }
    }
    while (cannot - can > 1) {
      const int middle = can + (cannot - can) / 2;
      (good(at(middle)) ? can : cannot) = middle;
    }
    return can;
  }

 private:
  [[nodiscard]] SowingPoint ask(const Sowing& sowing) const {
    const Model& model = outlook_.model();
    std::vector<Sowing> sowings = sown_;
    sowings.push_back(sowing);
    const SeedAnswer answer =
        seeds_for(model, sowings, model.goal().assurance, sensible_seeds(model.goal()), Precision::quick);
    return {model.date(sowing.day()), answer.seeds, answer.best_chance};
  }
  const SowingPoint& put(const SowingPoint& point) {
    return *points_.insert(std::ranges::lower_bound(points_, point.sow, {}, &SowingPoint::sow), point);
  }

  Outlook& outlook_;
  SowingRange range_;
  std::vector<Sowing> sown_;  ///< already
  std::vector<SowingPoint> points_;
};

/// The last day that does as well and delays the seedlings by less than half of what it is later itself.
template <class AsGood>
int least_delaying(const UsualEmergence& usual, int good, int last, const AsGood& as_good) {
  int later = last;
  while (later > good && usual.day(later) - usual.day(good) > (later - good) / kIdleDays) --later;
  const int step_back = std::max((later - good) / 8, 1);
  int too_late = later + 1;
  while (later > good && !as_good(later)) {
    too_late = later;
    later = std::max(later - step_back, good);
  }
  while (too_late - later > 1) {
    const int middle = later + (too_late - later) / 2;
    (as_good(middle) ? later : too_late) = middle;
  }
  return later;
}

/// Where seed would lie long in the bed, the first day on which it does not, or one some weeks later, that does as
/// well.
template <class AsGood>
int not_long_in_bed(const UsualEmergence& usual, int good, int last, const AsGood& as_good) {
  if (!usual.is_long_in_bed(good)) return good;
  constexpr int kWeek = 7;
  constexpr int kWeeks = 12;
  int first = good;
  while (first <= last && usual.is_long_in_bed(first)) ++first;
  for (int day = first; day <= std::min(last, first + kWeek * kWeeks); day += kWeek) {
    if (!usual.is_long_in_bed(day) && as_good(day)) return day;
  }
  return good;
}

/// No sooner than it helps: in a bed too cold to germinate in the seed only feeds mice and moulds.
template <class AsGood>
int no_sooner_than_it_helps(const Model& model, int good, int last, const AsGood& as_good) {
  const UsualEmergence usual(model);
  return not_long_in_bed(usual, least_delaying(usual, good, last, as_good), last, as_good);
}

/// Every so manieth day of a range.
std::vector<int> comb_of(SowingRange range, int step) {
  std::vector<int> days;
  for (int day = range.first; day <= range.last; day += step) days.push_back(day);
  return days;
}

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
  int first = std::max(index(goal.today) + goal.lot.chill_days, 0);
  if (goal.sow_not_before) first = std::max(first, index(*goal.sow_not_before));
  return {first, last};
}

Steps<double> sweep_sowings(Outlook& outlook, int comb, Workers workers, SowingSweep& sweep) {
  constexpr double kCombShare = 0.8;  // of the work
  const Goal& goal = outlook.model().goal();
  const SowingRange own = sowing_range(goal, outlook.model().sums());
  SowingRange range = sowing_again_range(goal, outlook.model().sums());
  if (range.is_empty()) range = own;
  sweep.surest_day = range.first;
  if (range.is_empty()) co_return;
  Looked looked(outlook, range);
  const int step = std::max((range.last - range.first + comb - 1) / comb, 1);
  const int hands = std::max(workers.hands, 1);
  for (int day = range.first; day <= range.last;) {
    std::vector<int> days;
    for (int hand = 0; hand < hands && day <= range.last; ++hand, day += step) days.push_back(day);
    looked.add(days, workers);
    co_yield kCombShare* std::min(day - range.first, range.last - range.first) / std::max(range.last - range.first, 1);
  }
  Looked::Fewest fewest = looked.fewest();
  if (goal.sow_on) looked.at(own.first);
  if (fewest.seeds > kMostSeeds) {
    sweep.surest_day = looked.day_of(*std::ranges::max_element(looked.points(), {}, &SowingPoint::best_assurance));
    sweep.points = looked.points();
    co_return;
  }
  // Around the fewest, a finer look; then the earliest day that is as good.
  for (int finer = step / 2; finer >= 1; finer /= 2) {
    for (const int day : {fewest.day - finer, fewest.day + finer}) {
      if (range.holds(day)) looked.at(day);
    }
    fewest = looked.fewest();
    co_yield kCombShare;
  }
  const auto within = [&](double times) {
    return [&fewest, times](const SowingPoint& point) {
      return point.seeds && *point.seeds <= static_cast<int>(std::floor(fewest.seeds * times));
    };
  };
  const int earliest = looked.earliest(fewest.day, within(kAsGood));
  co_yield (1 + kCombShare) / 2;
  sweep.best_day = no_sooner_than_it_helps(outlook.model(), earliest, range.last,
                                           [&, nearly = within(kNearly)](int day) { return nearly(looked.at(day)); });
  sweep.waits_for_warmth = *sweep.best_day > earliest;
  co_yield 1 - (1 - kCombShare) / 4;
  sweep.last_day = looked.latest(fewest.day, within(kStillPossible));
  sweep.points = looked.points();
}

int about_best_day(Outlook& outlook, SowingRange range, const Workers& workers) {
  constexpr int kDays = 8;
  Looked looked(outlook, range);
  const int step = std::max((range.last - range.first + kDays - 1) / kDays, 1);
  looked.add(comb_of(range, step), workers);
  const auto best = [&] {
    const Looked::Fewest fewest = looked.fewest();
    if (fewest.seeds <= kMostSeeds) return fewest.day;
    return looked.day_of(*std::ranges::max_element(looked.points(), {}, &SowingPoint::best_assurance));
  };
  for (int finer = step / 2; finer > 0 && finer >= step / 4; finer /= 2) {
    const int around = best();
    std::vector<int> days{around - finer, around + finer};
    std::erase_if(days, [&](int day) { return !range.holds(day); });
    looked.add(days, workers);
  }
  return best();
}

int surest_day_for(Outlook& outlook, SowingRange range, int comb, int seeds, const Workers& workers) {
  constexpr double kAsSure = 0.005;
  const Model& model = outlook.model();
  const auto chance_on = [&](int day) {
    const std::vector<Sowing> sowings = outlook.sowings(std::array{day});
    return model.assurance(sowings, seeds, fair_shares(model, sowings, model.goal().assurance).shares).chance;
  };
  const int step = std::max((range.last - range.first) / comb, 1);
  const std::vector<int> days = comb_of(range, step);
  std::vector<double> chance(days.size());
  workers.run(static_cast<int>(days.size()),
              [&](int i) { chance[static_cast<std::size_t>(i)] = chance_on(days[static_cast<std::size_t>(i)]); });
  const double enough = *std::ranges::max_element(chance) - kAsSure;
  const auto good = std::ranges::find_if(chance, [&](double one) { return one >= enough; }) - chance.begin();
  return no_sooner_than_it_helps(model, days[static_cast<std::size_t>(good)], range.last,
                                 [&](int day) { return chance_on(day) >= enough; });
}

std::vector<int> stagger_sowings(const Outlook& outlook, int best_day, SowingRange range, std::optional<Stagger>& why) {
  std::vector<int> best{best_day};
  const Model& model = outlook.model();
  const Goal& goal = model.goal();
  why.reset();
  if (goal.sessions.sowings_at_most < 2) return best;
  if (!goal.sessions.cuttings_at_most || goal.sow_on) {
    why = Stagger{.why = goal.sow_on ? Stagger::Why::day_said : Stagger::Why::room_for_all};
    return best;
  }
  const auto needed = [&](const std::vector<int>& days) {
    const std::vector<Sowing> sowings = outlook.sowings(days);
    return seeds_for(model, sowings, goal.assurance, sensible_seeds(goal), Precision::quick)
        .seeds.value_or(kMostSeeds + 1);
  };
  int fewest = needed(best);
  for (int sowings = 2; sowings <= goal.sessions.sowings_at_most; ++sowings) {
    std::vector<int> better;
    int fewer = fewest;
    for (const int apart : {7, 14, 21}) {
      for (const int shift : {0, -apart * (sowings - 1) / 2, -apart * (sowings - 1)}) {
        std::vector<int> days;
        for (int i = 0; i < sowings; ++i) days.push_back(best_day + shift + i * apart);
        if (!range.holds(days.front()) || !range.holds(days.back())) continue;
        const int seeds = needed(days);
        if (seeds < fewer) {
          fewer = seeds;
          better = days;
        }
      }
    }
    if (better.empty() || fewer * kAsGood > fewest) {
      why = fewest > kMostSeeds ? Stagger{.why = Stagger::Why::out_of_reach}
            : better.empty()    ? Stagger{.why = Stagger::Why::none_better, .seeds = fewest}
                                : Stagger{.why = Stagger::Why::saves_little, .seeds = fewest, .seeds_with_more = fewer};
      break;
    }
    fewest = fewer;
    best = better;
  }
  return best;
}

}  // namespace strikebed::season
