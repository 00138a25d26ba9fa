#include "season/nearest_goal.hpp"

#include <algorithm>
#include <cmath>

#include "season/limits.hpp"
#include "season/seed_search.hpp"
#include "season/what_if.hpp"
#include "season/winter_ahead.hpp"

namespace strikebed::season {
namespace {

constexpr int kLaterStep = 15;  // days: how finely later dates are tried
constexpr int kSaneLater = 3;   // times the seeds of an easy date,
constexpr int kSaneFewer = 2;   // and of an easy count: the nearest goal is not squeezed out with more

/// The earliest later date that would do, by halving; until the winter is over nothing is established.
Steps<double> find_date(const Model& model, std::optional<int> own_day, double best_chance, Workers workers,
                        Plan& plan) {
  const Goal& goal = model.goal();
  const bool winter_first = goal.is_before_winter_ends();
  const Date earliest = winter_first ? goal.winter_ends : goal.by;
  const Date last = last_later_date(goal);
  const auto by_after = [earliest](int steps) { return earliest + Days{steps * kLaterStep}; };
  const auto ask_later = [&](int steps) {
    const Goal later = with_date(goal, by_after(steps));
    const int sensible = sensible_seeds(later);
    const WhatIf asked(model, later, model.setting().sums, workers);
    return asked.closer(asked.about(own_day, sensible), sensible);
  };
  int too_soon = winter_first ? -1 : 0;
  const int latest = static_cast<int>((last - earliest).count()) / kLaterStep;
  int late = latest;
  Asked at_late = ask_later(late);
  co_yield 0.2;
  if (at_late.seeds) {
    const int own = goal.own_seeds();
    const int sane = kSaneLater * (own + *at_late.seeds);
    while (late - too_soon > 1) {
      const int middle = too_soon + (late - too_soon) / 2;
      const Asked at_middle = ask_later(middle);
      const bool will_do = at_middle.seeds && own + *at_middle.seeds <= sane;
      (will_do ? late : too_soon) = middle;
      if (will_do) at_late = at_middle;
      co_yield 1 - 0.8 * static_cast<double>(late - too_soon) / latest;
    }
    plan.nearest.by = by_after(late);
    plan.nearest.by_seeds = at_late.seeds;
  }
  const bool helps = at_late.seeds || at_late.best_chance > best_chance + kHelps;
  if (!helps && !winter_first && !plan.limits.empty()) co_return;
  if (!helps && !winter_first && best_chance >= kWorthSowing) co_return;
  Limit limit{.kind = winter_first ? LimitKind::first_winter : LimitKind::date, .date = by_after(late)};
  if (helps) limit.lifted = Lifted{at_late.seeds, at_late.best_chance, best_chance};
  plan.limits.push_back(limit);
  most_help_first(plan.limits);
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
Steps<double> find_counts(const Model& model, int own_day, Plan& plan) {
  constexpr int kHalvings = 6;
  const Goal& goal = model.goal();
  const auto needed = [&model, own_day](const Goal& smaller) {
    return WhatIf(model, smaller, model.setting().sums, Workers{})
        .on(own_day, kSensiblePerPlant * plants(smaller))
        .seeds;
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
    co_yield 0.3;
  }
  if (!seeds) co_return;
  // Half of what can be had is easy; what is named takes not many more seeds a plant than that.
  const Goal easy = scaled(goal, enough / 2);
  const std::optional<int> easy_seeds = needed(easy);
  const int own = goal.own_seeds();
  const double sane = kSaneFewer * static_cast<double>(own + easy_seeds.value_or(0)) / plants(easy);
  if (own + *seeds > sane * plants(scaled(goal, enough))) {
    too_many = enough;
    enough /= 2;
    seeds = easy_seeds;
  }
  for (int step = 0; step < kHalvings; ++step) {
    co_yield 0.4 + 0.6 * step / kHalvings;
    const double part = (enough + too_many) / 2;
    const Goal smaller = scaled(goal, part);
    const auto asked = needed(smaller);
    const bool will_do = asked && own + *asked <= sane * plants(smaller);
    (will_do ? enough : too_many) = part;
    if (will_do) seeds = asked;
  }
  std::vector<int> counts;
  for (const Want& want : scaled(goal, enough).wants) counts.push_back(want.count);
  plan.nearest.counts = counts;
  plan.nearest.seeds = seeds;
}

}  // namespace

Steps<double> find_nearest_goal(const Model& model, std::optional<int> own_day, double best_chance, Workers workers,
                                Plan& plan) {
  for (Steps<double> steps = find_date(model, own_day, best_chance, workers, plan); steps.next();) {
    co_yield steps.said() / 2;
  }
  if (!own_day) co_return;
  plan.nearest.assurance = best_chance;
  for (Steps<double> steps = find_counts(model, *own_day, plan); steps.next();) co_yield (1 + steps.said()) / 2;
}

}  // namespace strikebed::season
