#include "season/limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr int kLaterStep = 15;    // days: how finely later dates are tried
constexpr int kLatest = 120;      // days: how far
constexpr int kNotToTheLast = 4;  // the nearest counts are not squeezed out with every seed one could think of
constexpr double kHelps = 0.02;   // more sureness that is worth naming

/// A goal changed in one respect, asked on the same futures.
struct Asked {
  std::optional<int> seeds;
  double best_chance = 0;
};

/// Sowing days to try: the plan's own first, then a comb (a lifted limit may want another day).
std::vector<int> days_to_try(const std::vector<int>& sow_days, SowingRange range) {
  std::vector<int> days{sow_days.front()};
  constexpr int kTries = 8;
  for (int i = 0; i < kTries && range.last > range.first; ++i)
    days.push_back(range.first + (range.last - range.first) * i / kTries);
  return days;
}

Asked ask(const Model& model, const Goal& goal, const std::vector<int>& days, int seed_limit) {
  const Workers alone;
  const SessionDays sessions = session_days(goal, model.sums());
  Asked asked;
  if (sessions.count() == 0) return asked;
  const Model changed(goal, model.chain(), model.sums(), sessions, first_replicates(model.futures(), 2), alone);
  for (const int day : days) {
    const std::vector<Sowing> sowing{changed.sowing(day)};
    const SeedAnswer answer = seeds_for(changed, sowing, goal.assurance, seed_limit, Precision::quick);
    asked.best_chance = std::max(asked.best_chance, answer.best_chance);
    if (answer.seeds) {
      asked.seeds = answer.seeds;
      break;
    }
  }
  return asked;
}

}  // namespace

void explain_empty_season(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions, SowingRange range,
                          Plan& plan) {
  plan.sow_dates = {};
  plan.chill_start = goal.today;
  plan.count_date = goal.by;
  plan.shares.assign(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  plan.counted.resize(goal.wants.size());
  plan.needs.wants.resize(goal.wants.size());
  for (std::size_t w = 0; w < goal.wants.size(); ++w) plan.needs.wants[w].base_form = goal.wants[w].base_form;
  if (range.first > range.last) {
    plan.limits.push_back(
        {LimitKind::date,
         fmt::format("no day is left to sow: seed could go into the seedbed from {} (chilling and short "
                     "days allowed for), but the plants are wanted by {}",
                     to_words(sums.first + Days{range.first}), to_words(goal.by))});
  }
  if (sessions.count() == 0) {
    plan.limits.push_back(
        {LimitKind::date,
         fmt::format("no session day before {} leaves warmth enough in the medium for a cutting to root "
                     "in time: a warmer bench ([bench] at_least) or a later date is needed",
                     to_words(goal.by))});
  }
}

void explain_unmet(const Model& model, const std::vector<int>& sow_days, double best_chance, SowingRange range,
                   const Workers& workers, Plan& plan) {
  const Goal& goal = model.goal();
  const std::vector<int> days = days_to_try(sow_days, range);
  // One change to the goal for each kind of limit, then later dates; all asked at once.
  struct Change {
    LimitKind kind;
    Goal goal;
    std::string text;
  };
  std::vector<Change> changes;
  if (goal.sessions.cuttings_at_most) {
    Change room{
        LimitKind::room, goal,
        fmt::format("there is room for {} cuttings a session; with room for all", *goal.sessions.cuttings_at_most)};
    room.goal.sessions.cuttings_at_most.reset();
    changes.push_back(room);
  }
  Change window{LimitKind::window, goal,
                "seedlings pass their window between the session days; with a session every day"};
  window.goal.sessions.weekdays.fill(true);
  window.goal.sessions.dates.reset();
  window.goal.sessions.not_on.clear();
  if (goal.sessions.dates || !goal.sessions.not_on.empty() || std::ranges::count(goal.sessions.weekdays, false) > 0) {
    changes.push_back(window);
  }
  const std::size_t kinds = changes.size();
  for (int later = kLaterStep; later <= kLatest; later += kLaterStep) {
    Change date{LimitKind::date, goal, ""};
    date.goal.by = goal.by + Days{later};
    date.goal.winter_starts = goal.winter_starts + Days{goal.count_at == CountAt::established ? later : 0};
    date.goal.winter_ends = std::min(goal.winter_ends, date.goal.by);
    changes.push_back(date);
  }
  std::vector<Asked> asked(changes.size());
  workers.run(static_cast<int>(changes.size()), [&](int i) {
    const auto c = static_cast<std::size_t>(i);
    asked[c] = ask(model, changes[c].goal, days, sensible_seeds(goal));
  });
  const auto say = [&](LimitKind kind, const std::string& text, const Asked& answer) {
    if (answer.seeds) {
      plan.limits.push_back({kind, fmt::format("{} the goal can be met with about {} seeds", text, *answer.seeds)});
    } else if (answer.best_chance > best_chance + kHelps) {
      plan.limits.push_back({kind, fmt::format("{} it would be {:.0f} % sure instead of {:.0f} %", text,
                                               std::floor(100 * answer.best_chance), std::floor(100 * best_chance))});
    }
  };
  for (std::size_t c = 0; c < kinds; ++c) say(changes[c].kind, changes[c].text, asked[c]);
  for (std::size_t c = kinds; c < changes.size(); ++c) {
    if (asked[c].seeds) {
      plan.nearest.by = changes[c].goal.by;
      say(LimitKind::date, fmt::format("the date comes too soon; by {}", to_words(changes[c].goal.by)), asked[c]);
      break;
    }
  }
  if (!plan.nearest.by && asked.back().best_chance > best_chance + kHelps) {
    say(LimitKind::date, fmt::format("the date comes too soon; by {}", to_words(changes.back().goal.by)), asked.back());
  }
  if (plan.limits.empty() && goal.sessions.cuttings_at_most) {
    const long days_at_bench = session_days(goal, model.sums()).count();
    plan.limits.push_back(
        {LimitKind::room,
         fmt::format("there is room for {} cuttings a session, and for {} in all {} sessions that could be held",
                     *goal.sessions.cuttings_at_most, days_at_bench * *goal.sessions.cuttings_at_most, days_at_bench)});
  }
  if (plan.limits.empty()) {
    plan.limits.push_back({LimitKind::rate,
                           "in some of the futures the rates are so poor that no number of seeds gives enough; learn "
                           "them by a small trial, or ask for less sureness"});
  }
  plan.nearest.assurance = best_chance;
  // The largest share of the counts, in the same proportion, that can still be had.
  const auto scaled = [&](double part) {
    Goal smaller = goal;
    for (Want& want : smaller.wants) want.count = std::max(static_cast<int>(std::floor(want.count * part)), 1);
    return smaller;
  };
  const auto needed = [&](const Goal& smaller) {
    return ask(model, smaller, {sow_days.front()}, sensible_seeds(smaller) / kNotToTheLast).seeds;
  };
  double enough = 0;
  double too_many = 1;
  double smallest = 1;
  for (const Want& want : goal.wants) smallest = std::min(smallest, 1.0 / want.count);
  for (double part = 0.5; part >= smallest / 2; part /= 2) {
    if (needed(scaled(part))) {
      enough = part;
      break;
    }
    too_many = part;
  }
  if (enough == 0) return;
  for (int step = 0; step < 6; ++step) {
    const double part = (enough + too_many) / 2;
    (needed(scaled(part)) ? enough : too_many) = part;
  }
  const Goal nearest = scaled(enough);
  std::vector<int> counts;
  for (const Want& want : nearest.wants) counts.push_back(want.count);
  plan.nearest.counts = counts;
  plan.nearest.seeds = needed(nearest);
}

}  // namespace strikebed::season
