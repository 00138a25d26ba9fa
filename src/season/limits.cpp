#include "season/limits.hpp"

#include <algorithm>
#include <cmath>

#include "season/seed_search.hpp"
#include "season/winter_ahead.hpp"

namespace strikebed::season {
namespace {

constexpr int kLaterStep = 15;     // days: how finely later dates are tried
constexpr int kSaneLater = 3;      // times the seeds of an easy date,
constexpr int kSaneFewer = 2;      // and of an easy count: the nearest goal is not squeezed out with more
constexpr double kHelps = 0.02;    // more sureness that is worth naming
constexpr double kWarmBed_c = 18;  // a heated seedbed, and a bench warm enough to root at any time of year
constexpr double kWarmBench_c = 18;
constexpr int kFewReplicates = 2;  // of the futures are enough to tell what helps

/// A goal changed in one respect, asked on the same futures.
struct Asked {
  std::optional<int> seeds;
  double best_chance = 0;
};

/// The plan's own day first, then a comb: a lifted limit may want another day.
std::vector<int> days_to_try(std::optional<int> own_day, SowingRange range) {
  constexpr int kTries = 8;
  std::vector<int> days;
  if (own_day) days.push_back(*own_day);
  for (int i = 0; i < kTries && range.first <= range.last; ++i) {
    const int day = range.first + (range.last - range.first) * i / kTries;
    if (std::ranges::find(days, day) == days.end()) days.push_back(day);
  }
  return days;
}

/// The first of the days that can do it, or the most that any of them can.
Asked ask(const Model& model, const Goal& goal, const std::shared_ptr<const ThermalSums>& sums,
          const std::vector<int>& days, const Workers& workers, int limit) {
  BenchHabit habit = model.setting().habit;
  if (!goal.sessions.cuttings_at_most) habit.patience = kMostPatience;
  SessionDays sessions = session_days(goal, *sums, habit);
  Asked asked;
  if (sessions.count() == 0 || days.empty()) return asked;
  const Model changed({goal, model.setting().chain, sums, std::move(sessions), habit},
                      model.futures().first(kFewReplicates), Workers{});
  std::vector<SeedAnswer> answers(days.size());
  const auto answer_for = [&](std::size_t i) {
    const std::vector<Sowing> sowing{changed.sowing(days[i])};
    answers[i] = seeds_for(changed, sowing, goal.assurance, limit, Precision::quick);
  };
  // The first day mostly settles it; the others are asked together.
  answer_for(0);
  if (!answers.front().seeds) {
    workers.run(static_cast<int>(days.size()) - 1, [&](int i) { answer_for(static_cast<std::size_t>(i) + 1); });
  }
  for (const SeedAnswer& answer : answers) {
    asked.best_chance = std::max(asked.best_chance, answer.best_chance);
    if (!asked.seeds) asked.seeds = answer.seeds;
  }
  return asked;
}

/// The goal changed in one respect, and the limit that lifts.
struct Lifting {
  Limit limit;
  Goal goal;
  bool other_warmth = false;  ///< it changes how warm it is somewhere
};

std::vector<Lifting> changes_of(const Goal& goal, int sessions) {
  std::vector<Lifting> changes;
  if (goal.sessions.cuttings_at_most) {
    Lifting room{{.kind = LimitKind::room, .sessions = sessions}, goal};
    room.goal.sessions.cuttings_at_most.reset();
    changes.push_back(std::move(room));
  }
  if (goal.sessions.days_said &&
      (goal.sessions.dates || !goal.sessions.not_on.empty() || std::ranges::count(goal.sessions.weekdays, false) > 0)) {
    Lifting days{{.kind = LimitKind::bench_days}, goal};
    days.goal.sessions.weekdays.fill(true);
    days.goal.sessions.dates.reset();
    days.goal.sessions.not_on.clear();
    changes.push_back(std::move(days));
  }
  const auto warm = [&](LimitKind kind, shelter::Position Goal::* position, double least_c) {
    const shelter::Position& now = goal.*position;
    if (now.fixed_c || now.at_least_c.value_or(-99) >= least_c) return;
    Lifting warmth{{.kind = kind, .heated_c = least_c}, goal, true};
    (warmth.goal.*position).at_least_c = least_c;
    changes.push_back(std::move(warmth));
  };
  warm(LimitKind::cold_seedbed, &Goal::seedbed, kWarmBed_c);
  warm(LimitKind::cold_bench, &Goal::bench, kWarmBench_c);
  return changes;
}

/// Those of the weather seasons that the first replicates of the futures use.
climate::WeatherSeasons in_use(const climate::WeatherSeasons& weather, const Futures& futures) {
  climate::WeatherSeasons fewer = weather;
  fewer.count = 1;
  for (int f = 0; f < futures.count(); ++f) fewer.count = std::max(fewer.count, futures.weather(f) + 1);
  const std::size_t size = static_cast<std::size_t>(fewer.count) * static_cast<std::size_t>(fewer.days);
  fewer.tmin_c.resize(size);
  fewer.tmax_c.resize(size);
  return fewer;
}

/// The question what a changed goal would bring, and how sure the goal is as it stands.
struct Question {
  const Model& model;
  const climate::WeatherSeasons& weather;
  std::optional<int> own_day;
  double chance_now;
  const Workers& workers;

  [[nodiscard]] Asked answer(const Goal& changed, const std::shared_ptr<const ThermalSums>& sums) const {
    return ask(model, changed, sums, days_to_try(own_day, sowing_range(changed, *sums)), workers,
               sensible_seeds(changed));
  }
  [[nodiscard]] Asked answer(const Lifting& change) const {
    if (!change.other_warmth) return answer(change.goal, model.setting().sums);
    const auto fewer = in_use(weather, model.futures().first(kFewReplicates));
    return answer(change.goal, std::make_shared<const ThermalSums>(thermal_sums(change.goal, fewer, workers)));
  }
  /// Nothing where it does not help.
  [[nodiscard]] std::optional<Lifted> lifted(const Asked& asked) const {
    if (!asked.seeds && asked.best_chance <= chance_now + kHelps) return std::nullopt;
    return Lifted{asked.seeds, asked.best_chance, chance_now};
  }
};

/// The earliest later date that would do, by halving; until the winter is over nothing is established.
void ask_later_dates(const Question& question, Plan& plan) {
  const Goal& goal = question.model.goal();
  const bool winter_first = goal.is_before_winter_ends();
  const Date earliest = winter_first ? goal.winter_ends : goal.by;
  const auto by_after = [&](int steps) { return earliest + Days{steps * kLaterStep}; };
  const auto ask_later = [&](int steps) {
    return question.answer(with_date(goal, by_after(steps)), question.model.setting().sums);
  };
  int too_soon = winter_first ? -1 : 0;
  int late = kLatestLater_days / kLaterStep;
  Asked at_late = ask_later(late);
  if (at_late.seeds) {
    const int sane = kSaneLater * *at_late.seeds;
    const auto will_do = [&](const Asked& asked) { return asked.seeds && *asked.seeds <= sane; };
    while (late - too_soon > 1) {
      const int middle = too_soon + (late - too_soon) / 2;
      const Asked at_middle = ask_later(middle);
      (will_do(at_middle) ? late : too_soon) = middle;
      if (will_do(at_middle)) at_late = at_middle;
    }
    plan.nearest.by = by_after(late);
    plan.nearest.by_seeds = at_late.seeds;
  }
  const auto lifted = question.lifted(at_late);
  if (!lifted && question.chance_now >= kWorthSowing) return;
  plan.limits.push_back(
      {.kind = winter_first ? LimitKind::first_winter : LimitKind::date, .lifted = lifted, .date = by_after(late)});
}

/// So large a part of each count, but one plant at least.
Goal scaled(const Goal& goal, double part) {
  Goal smaller = goal;
  for (Want& want : smaller.wants) want.count = std::max(static_cast<int>(std::floor(want.count * part)), 1);
  return smaller;
}

int plants(const Goal& goal) {
  int sum = 0;
  for (const Want& want : goal.wants) sum += want.count;
  return sum;
}

/// The largest share of the counts, in the same proportion, that can still be had, and the seeds for it.
void ask_smaller_counts(const Model& model, int own_day, Nearest& nearest) {
  const Goal& goal = model.goal();
  const auto needed = [&](const Goal& smaller) {
    return ask(model, smaller, model.setting().sums, {own_day}, Workers{}, sensible_seeds(smaller)).seeds;
  };
  double enough = 0;
  std::optional<int> seeds;  // for that much
  double too_many = 1;
  double smallest = 1;
  for (const Want& want : goal.wants) smallest = std::min(smallest, 1.0 / want.count);
  while (!seeds && too_many >= smallest) {
    const double part = too_many / 2;
    seeds = needed(scaled(goal, part));
    (seeds ? enough : too_many) = part;
  }
  if (!seeds) return;
  // Half of what can be had is easy; what is named takes not many more seeds a plant than that.
  const Goal easy = scaled(goal, enough / 2);
  const std::optional<int> easy_seeds = needed(easy);
  const double sane = kSaneFewer * static_cast<double>(easy_seeds.value_or(0)) / plants(easy);
  if (*seeds > sane * plants(scaled(goal, enough))) {
    too_many = enough;
    enough /= 2;
    seeds = easy_seeds;
  }
  for (int step = 0; step < 6; ++step) {
    const double part = (enough + too_many) / 2;
    const Goal smaller = scaled(goal, part);
    const auto asked = needed(smaller);
    if (asked && *asked <= sane * plants(smaller)) {
      enough = part;
      seeds = asked;
    } else {
      too_many = part;
    }
  }
  std::vector<int> counts;
  for (const Want& want : scaled(goal, enough).wants) counts.push_back(want.count);
  nearest.counts = counts;
  nearest.seeds = seeds;
}

}  // namespace

void leave_unsown(const Goal& goal, Plan& plan) {
  plan.seeds = goal.seeds_in_hand.value_or(0);
  plan.shares.assign(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  plan.needs.wants.resize(goal.wants.size());
  for (std::size_t w = 0; w < goal.wants.size(); ++w) plan.needs.wants[w].base_form = goal.wants[w].base_form;
}

void name_limits(const Model& model, const climate::WeatherSeasons& weather, std::optional<int> own_day,
                 double chance_now, const Workers& workers, Plan& plan) {
  const Goal& goal = model.goal();
  const Question question{model, weather, own_day, chance_now, workers};
  if (!goal.is_before_winter_ends()) {
    for (Lifting& change : changes_of(goal, model.sessions().count())) {
      change.limit.lifted = question.lifted(question.answer(change));
      if (change.limit.lifted) plan.limits.push_back(change.limit);
    }
  }
  if (!plan.met) ask_later_dates(question, plan);
}

void explain_empty_season(const Model& model, const climate::WeatherSeasons& weather, SowingRange range,
                          const Workers& workers, Plan& plan) {
  leave_unsown(model.goal(), plan);
  if (range.first > range.last) {
    plan.limits.push_back({.kind = LimitKind::no_sowing_day, .date = model.sums().first + Days{range.first}});
  }
  if (model.sessions().count() == 0) plan.limits.push_back({.kind = LimitKind::no_session});
  name_limits(model, weather, {}, 0, workers, plan);
}

void explain_unmet(const Model& model, const climate::WeatherSeasons& weather, int own_day, double best_chance,
                   const Workers& workers, Plan& plan) {
  name_limits(model, weather, own_day, best_chance, workers, plan);
  if (plan.limits.empty()) {
    plan.limits.push_back(model.goal().sessions.cuttings_at_most
                              ? Limit{.kind = LimitKind::room, .sessions = model.sessions().count()}
                              : Limit{.kind = LimitKind::rates});
  }
  plan.nearest.assurance = best_chance;
  ask_smaller_counts(model, own_day, plan.nearest);
}

}  // namespace strikebed::season
