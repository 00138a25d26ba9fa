#include "season/limits.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "season/seed_search.hpp"

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
Asked ask(const Model& model, const Goal& goal, const ThermalSums& sums, const std::vector<int>& days,
          const Workers& workers, int limit) {
  const SessionDays sessions = session_days(goal, sums);
  Asked asked;
  if (sessions.count() == 0 || days.empty()) return asked;
  const Model changed(goal, model.chain(), sums, sessions, first_replicates(model.futures(), kFewReplicates),
                      Workers{});
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

/// Changes to the goal, each of one kind of limit, and how each is said.
struct Change {
  LimitKind kind;
  Goal goal;
  std::string text;
  bool other_warmth = false;  ///< it changes how warm it is somewhere
};

std::vector<Change> changes_of(const Goal& goal, int sessions) {
  std::vector<Change> changes;
  if (goal.sessions.cuttings_at_most) {
    Change room{
        LimitKind::room, goal,
        fmt::format("there is room for {} cuttings a session, {} in all; with room for all",
                    *goal.sessions.cuttings_at_most, static_cast<long>(sessions) * *goal.sessions.cuttings_at_most)};
    room.goal.sessions.cuttings_at_most.reset();
    changes.push_back(std::move(room));
  }
  if (goal.sessions.dates || !goal.sessions.not_on.empty() || std::ranges::count(goal.sessions.weekdays, false) > 0) {
    Change window{LimitKind::window, goal, "the days at the bench are few; with a session every day"};
    window.goal.sessions.weekdays.fill(true);
    window.goal.sessions.dates.reset();
    window.goal.sessions.not_on.clear();
    changes.push_back(std::move(window));
  }
  const auto warm = [&](shelter::Position Goal::* position, double least_c, const char* text) {
    const shelter::Position& now = goal.*position;
    if (now.fixed_c || now.at_least_c.value_or(-99) >= least_c) return;
    Change warmth{LimitKind::warmth, goal, fmt::format("{} at_least = {})", text, least_c), true};
    (warmth.goal.*position).at_least_c = least_c;
    changes.push_back(std::move(warmth));
  };
  warm(&Goal::seedbed, kWarmBed_c, "the seedbed is cold; heated (in [seedbed]:");
  warm(&Goal::bench, kWarmBench_c, "the bench is cold; heated (in [bench]:");
  return changes;
}

/// Those of the weather seasons that the first replicates of the futures use.
climate::WeatherSeasons in_use(const climate::WeatherSeasons& weather, const Futures& futures) {
  climate::WeatherSeasons fewer = weather;
  fewer.count = 1 + *std::ranges::max_element(futures.weather);
  const std::size_t size = static_cast<std::size_t>(fewer.count) * static_cast<std::size_t>(fewer.days);
  fewer.tmin_c.resize(size);
  fewer.tmax_c.resize(size);
  return fewer;
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
  const auto say = [&](LimitKind kind, const std::string& text, const Asked& answer) {
    if (answer.seeds) {
      plan.limits.push_back({kind, fmt::format("{} the goal can be met with about {} seeds", text, *answer.seeds)});
    } else if (answer.best_chance > chance_now + kHelps) {
      plan.limits.push_back({kind, fmt::format("{} it would be {:.0f} % sure instead of {:.0f} %", text,
                                               std::floor(100 * answer.best_chance), 100 * chance_now)});
    }
  };
  const auto ask_changed = [&](const Goal& changed, const ThermalSums& sums) {
    return ask(model, changed, sums, days_to_try(own_day, sowing_range(changed, sums)), workers,
               sensible_seeds(changed));
  };
  const bool before_winter_ends = goal.count_at == CountAt::established && goal.by < goal.winter_ends;
  if (!before_winter_ends) {
    for (const Change& change : changes_of(goal, model.sessions().count())) {
      if (!change.other_warmth) {
        say(change.kind, change.text, ask_changed(change.goal, model.sums()));
      } else {
        const auto fewer = in_use(weather, first_replicates(model.futures(), kFewReplicates));
        say(change.kind, change.text, ask_changed(change.goal, thermal_sums(change.goal, fewer, workers)));
      }
    }
  }
  if (plan.met) return;
  // The earliest later date that would do; a later one is never worse, so halving finds it. The winter stays where it
  // is, and until it is over nothing is established.
  const Date earliest = before_winter_ends ? goal.winter_ends : goal.by;
  const auto by_after = [&](int steps) { return earliest + Days{steps * kLaterStep}; };
  const auto ask_later = [&](int steps) {
    Goal later = goal;
    later.by = by_after(steps);
    return ask_changed(later, model.sums());
  };
  int too_soon = before_winter_ends ? -1 : 0;
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
  const std::string by_then = to_words(by_after(late));
  const std::string why =
      before_winter_ends
          ? fmt::format("a plant is established once its first winter is over, on {}", to_words(goal.winter_ends))
          : std::string("the date comes too soon");
  if (at_late.seeds || at_late.best_chance > chance_now + kHelps) {
    say(LimitKind::date, fmt::format("{}; by {}", why, by_then), at_late);
  } else if (chance_now < kWorthSowing) {
    plan.limits.push_back({LimitKind::date, before_winter_ends
                                                ? fmt::format("{}; by {} it cannot be met either", why, by_then)
                                                : fmt::format("by {} it cannot be met either", by_then)});
  }
}

void explain_empty_season(const Model& model, const climate::WeatherSeasons& weather, SowingRange range,
                          const Workers& workers, Plan& plan) {
  const Goal& goal = model.goal();
  leave_unsown(goal, plan);
  if (range.first > range.last) {
    plan.limits.push_back(
        {LimitKind::date,
         fmt::format("no day is left to sow: seed could go into the seedbed from {} (chilling and short "
                     "days allowed for), but the plants are wanted by {}",
                     to_words(model.sums().first + Days{range.first}), to_words(goal.by))});
  }
  if (model.sessions().count() == 0) {
    plan.limits.push_back(
        {LimitKind::date, fmt::format("no session day before {} leaves warmth enough in the medium for a cutting to "
                                      "root in time",
                                      to_words(goal.by))});
  }
  name_limits(model, weather, {}, 0, workers, plan);
}

void explain_unmet(const Model& model, const climate::WeatherSeasons& weather, int own_day, double best_chance,
                   const Workers& workers, Plan& plan) {
  const Goal& goal = model.goal();
  name_limits(model, weather, own_day, best_chance, workers, plan);
  if (plan.limits.empty() && goal.sessions.cuttings_at_most) {
    const long days_at_bench = model.sessions().count();
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
    return ask(model, smaller, model.sums(), {own_day}, Workers{}, sensible_seeds(smaller)).seeds;
  };
  const auto plants = [](const Goal& asked) {
    int sum = 0;
    for (const Want& want : asked.wants) sum += want.count;
    return sum;
  };
  double enough = 0;
  std::optional<int> seeds;  // for that much
  double too_many = 1;
  double smallest = 1;
  for (const Want& want : goal.wants) smallest = std::min(smallest, 1.0 / want.count);
  while (!seeds && too_many >= smallest) {
    const double part = too_many / 2;
    seeds = needed(scaled(part));
    (seeds ? enough : too_many) = part;
  }
  if (!seeds) return;
  // Half of what can be had is easy; what is named takes not many more seeds a plant than that.
  const Goal easy = scaled(enough / 2);
  const std::optional<int> easy_seeds = needed(easy);
  const double sane = kSaneFewer * static_cast<double>(easy_seeds.value_or(0)) / plants(easy);
  if (*seeds > sane * plants(scaled(enough))) {
    too_many = enough;
    enough /= 2;
    seeds = easy_seeds;
  }
  for (int step = 0; step < 6; ++step) {
    const double part = (enough + too_many) / 2;
    const Goal smaller = scaled(part);
    const auto asked = needed(smaller);
    if (asked && *asked <= sane * plants(smaller)) {
      enough = part;
      seeds = asked;
    } else {
      too_many = part;
    }
  }
  std::vector<int> counts;
  for (const Want& want : scaled(enough).wants) counts.push_back(want.count);
  plan.nearest.counts = counts;
  plan.nearest.seeds = seeds;
}

}  // namespace strikebed::season
