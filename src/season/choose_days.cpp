#include "season/choose_days.hpp"

#include <algorithm>
#include <utility>

#include "season/seed_search.hpp"
#include "season/timetable.hpp"

namespace strikebed::season {
namespace {

std::vector<int> best_days(Study& study, SowingSweep& sweep, SowingRange range) {
  const Goal& goal = study.goal();
  const int day = goal.sow_on          ? range.first
                  : goal.seeds_in_hand ? study.surest_day(*goal.seeds_in_hand)
                                       : sweep.best_day.value_or(sweep.surest_day);
  return stagger_sowings(study.outlook(Look::rough), day, range, sweep.stagger);
}

/// Where room is short, a place left empty may cost more than a seedling struck before its best: the patience that
/// needs the fewest seeds on the study's sowing days, or makes the seeds in hand, or as many as are sensible, surest.
double best_patience(Study& study) {
  BenchHabit habit = study.outlook(Look::rough).model().setting().habit;
  constexpr double kBetter = 0.01;  // in the seeds or in the chance, to be less patient for it
  const auto& in_hand = study.goal().seeds_in_hand;
  double best = kMostPatience;
  std::optional<int> fewest;
  double surest = 0;
  for (const double patience : kPatience) {
    habit.patience = patience;
    study.try_sessions(habit);
    const SeedAnswer answer = study.seeds_needed(Look::rough);
    const double chance = in_hand ? study.how_sure(*in_hand, answer.shares, Look::rough).chance : answer.best_chance;
    const bool fewer = !in_hand && answer.seeds && (!fewest || *answer.seeds < *fewest * (1 - kBetter));
    const bool surer = (in_hand || !fewest) && chance > surest + (patience < kMostPatience ? kBetter : 0);
    if (!fewer && !surer) continue;
    best = patience;
    fewest = answer.seeds;
    surest = chance;
  }
  return best;
}

/// On how many days something is struck in the mean of the futures, but for one seedling in a hundred at either end.
int bench_days(const Model& model, std::span<const Sowing> sowings, int seeds) {
  const std::vector<int> split = split_seeds(seeds, sowings);
  std::vector<double> struck(static_cast<std::size_t>(model.sessions().count()));
  for (std::size_t s = 0; s < struck.size(); ++s) {
    for (std::size_t l = 0; l < sowings.size(); ++l) {
      for (int f = 0; f < model.futures().count(); ++f) {
        const std::size_t i = sowings[l]->offers->at(f, static_cast<int>(s));
        struck[s] += split[l] * static_cast<double>(sowings[l]->accepted[i]);
      }
    }
  }
  const auto [begin, end] = without_tails(struck);
  return static_cast<int>(end - begin);
}

/// A rhythm asked on the day that was best for another, and where it is seldom on days around: which weeks its sessions
/// fall into matters then.
RhythmPoint ask_rhythm(Study& study, Rhythm rhythm, int day, SowingRange range) {
  study.try_sessions({.rhythm = rhythm});
  RhythmPoint best;
  best.rhythm = rhythm;
  const int shift = rhythm <= Rhythm::two_weeks ? 7 : 0;
  for (const int shifted : {day, day - shift, day + shift}) {
    if (!range.holds(shifted) || (shifted == day && best.seeds)) continue;
    study.sow_on({shifted});
    const SeedAnswer answer = study.seeds_needed(Look::rough);
    const bool fewer = answer.seeds && (!best.seeds || *answer.seeds < *best.seeds);
    if (!fewer && (best.seeds || answer.best_chance <= best.best_assurance)) continue;
    const int seeds = answer.seeds.value_or(sensible_seeds(study.goal()));
    best = {rhythm, answer.seeds, answer.best_chance,
            bench_days(study.outlook(Look::rough).model(), study.sowings(Look::rough), seeds)};
  }
  return best;
}

/// Every session day of one rhythm is one of the other.
bool keeps_days_of(Rhythm often, Rhythm seldom) {
  constexpr int kAllWeeks = 7 * 3 * 4;
  for (int d = 0; d < kAllWeeks; ++d) {
    const Date date{Days{d}};
    if (falls_on(seldom, date) && !falls_on(often, date)) return false;
  }
  return true;
}

/// Who may come more often can keep to the days of a more seldom rhythm, and needs no more for it.
void no_worse_than_seldom(std::vector<RhythmPoint>& rhythms) {
  for (RhythmPoint& point : rhythms) {
    for (const RhythmPoint& other : rhythms) {
      if (!keeps_days_of(point.rhythm, other.rhythm)) continue;
      if (other.seeds) point.seeds = std::min(point.seeds.value_or(*other.seeds), *other.seeds);
      point.best_assurance = std::max(point.best_assurance, other.best_assurance);
    }
  }
}

/// The most seldom rhythm that loses little against the best of them.
Rhythm seldom_enough(const std::vector<RhythmPoint>& rhythms) {
  constexpr double kFewMore = 1.1;      // seeds are cheap beside days
  constexpr double kHardlyLess = 0.02;  // sure
  int fewest = kMostSeeds + 1;
  double surest = 0;
  for (const RhythmPoint& point : rhythms) {
    fewest = std::min(fewest, point.seeds.value_or(fewest));
    surest = std::max(surest, point.best_assurance);
  }
  const auto good = [&](const RhythmPoint& point) {
    return fewest > kMostSeeds ? point.best_assurance >= surest - kHardlyLess
                               : point.seeds && *point.seeds <= fewest * kFewMore;
  };
  return std::ranges::find_if(rhythms, good)->rhythm;
}

}  // namespace

Steps<double> choose_days(Study& study, SowingRange range, SowingSweep& sweep, std::vector<RhythmPoint>& rhythms) {
  constexpr double kHabitsShare = 0.3;  // of the work
  const bool scarce = study.goal().sessions.cuttings_at_most.has_value();
  const bool free = !study.goal().sessions.days_said;
  BenchHabit habit{.rhythm = Rhythm::week};
  study.try_sessions(habit);
  // Habits are judged on a day that is about the best, so that the dates need to be swept once.
  if (free || scarce) {
    const int day = about_best_day(study.outlook(Look::rough), range, study.workers());
    co_yield kHabitsShare / 4;
    if (free) {
      for (const Rhythm rhythm : kRhythms) {
        rhythms.push_back(ask_rhythm(study, rhythm, day, range));
        co_yield kHabitsShare / 2;
      }
      no_worse_than_seldom(rhythms);
      habit.rhythm = seldom_enough(rhythms);
      study.try_sessions(habit);
    }
    study.sow_on({day});
    if (scarce) habit.patience = best_patience(study);
  }
  study.hold_sessions(habit);
  for (Steps<double> steps = study.sweep(sweep); steps.next();) {
    co_yield kHabitsShare + ((1 - kHabitsShare) * steps.said());
  }
  study.sow_on(best_days(study, sweep, range));
  if (!scarce) co_return;
  const double swept_with = std::exchange(habit.patience, best_patience(study));
  study.hold_sessions(habit);
  if (habit.patience == swept_with) co_return;
  sweep = SowingSweep{};
  for (Steps<double> steps = study.sweep(sweep); steps.next();) co_yield 1;
  study.sow_on(best_days(study, sweep, range));
}

}  // namespace strikebed::season
