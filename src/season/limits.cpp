#include "season/limits.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "evidence/beta.hpp"
#include "season/seed_search.hpp"
#include "season/what_if.hpp"

namespace strikebed::season {
namespace {

constexpr double kSaves = 0.9;       // of the seeds is worth naming: it is not the scatter of the futures
constexpr double kWarm_c = 18;       // a heated seedbed, and a bench warm enough to root at any time of year
constexpr double kCooler_c = 3;      // by shade and air
constexpr double kTemperate_c = 21;  // what is held warmer is held too warm for pines
constexpr double kGoodShare = 0.9;   // of any rung, practised well

/// The goal changed in one respect, and the limit that lifts.
struct Lifting {
  Limit limit;
  Goal goal;
};

/// Where it can be too cold or too hot.
struct Place {
  shelter::Position Goal::* position;
  std::optional<Rewarmed> Limit::* lifted;
};
constexpr std::array kPlaces{Place{&Goal::seedbed, &Limit::seedbed}, Place{&Goal::bench, &Limit::bench}};

/// A limit that it would help to lift.
struct Found {
  Limit limit;
  WhatIf lifted;
  Asked asked;  ///< of it
};

bool all_weekdays(const Sessions& sessions) {
  return !sessions.dates && sessions.not_on.empty() && std::ranges::count(sessions.weekdays, false) == 0;
}

/// The first day on which a seedling is usually ripe, of seed sown on a day; the last of the season where none is.
int usually_ripe(const Model& model, int sow_day) {
  const growth::Species& species = model.goal().species;
  const auto after = [](const std::vector<double>& clock, int from, double warmth) {
    const double reached = clock[static_cast<std::size_t>(from)] + warmth;
    return std::min(static_cast<int>(std::ranges::lower_bound(clock, reached) - clock.begin()),
                    static_cast<int>(clock.size()) - 1);
  };
  const int seasons = std::min(model.sums().seasons, kUsualSeasons);
  const int up = after(model.sums().germination.usual(seasons), sow_day,
                       species.germination_time.quantity.low + species.cover_time.quantity.low);
  return after(model.sums().ripening.usual(seasons), up, species.ripening_time.quantity.low);
}

void lift_room(const Model& model, std::vector<Lifting>& changes) {
  const Goal& goal = model.goal();
  if (!goal.sessions.cuttings_at_most) return;
  changes.push_back({{.kind = LimitKind::room, .sessions = model.sessions().count()}, goal});
  changes.back().goal.sessions.cuttings_at_most.reset();
}

void lift_days(const Model& model, SowingRange range, std::vector<Lifting>& changes) {
  const Goal& goal = model.goal();
  if (goal.sessions.days_said && !all_weekdays(goal.sessions)) {
    changes.push_back({{.kind = LimitKind::bench_days}, goal});
    Sessions& sessions = changes.back().goal.sessions;
    sessions.weekdays.fill(true);
    sessions.dates.reset();
    sessions.not_on.clear();
    if (!range.is_empty() && model.sessions().count() > 0) {
      const int ripe = usually_ripe(model, range.first);
      if (model.sessions().day.back() < ripe) changes.back().limit.date = model.date(ripe);
    }
  }
  if (goal.sow_on || goal.sow_not_before) {
    changes.push_back({{.kind = LimitKind::sowing_day}, goal});
    changes.back().goal.sow_on.reset();
    changes.back().goal.sow_not_before.reset();
  }
}

/// Warmer, where it is not warm already, at some of the positions.
void lift_cold(const Goal& goal, std::span<const Place> places, std::vector<Lifting>& changes) {
  Lifting change{{.kind = LimitKind::cold}, goal};
  for (const Place& place : places) {
    shelter::Position& here = change.goal.*place.position;
    if (here.fixed_c.value_or(here.at_least_c.value_or(-99)) >= kWarm_c) return;
    (here.fixed_c ? here.fixed_c : here.at_least_c) = kWarm_c;
    change.limit.*place.lifted = Rewarmed{.heated_c = kWarm_c};
  }
  changes.push_back(std::move(change));
}

/// Cooler, where it is not held cool, at some of the positions.
void lift_heat(const Goal& goal, std::span<const Place> places, std::vector<Lifting>& changes) {
  Lifting change{{.kind = LimitKind::hot}, goal};
  for (const Place& place : places) {
    shelter::Position& here = change.goal.*place.position;
    const double cooler_c = here.fixed_c ? *here.fixed_c - kTemperate_c : kCooler_c;
    if (cooler_c <= 0) return;
    const bool is_overheated = !here.fixed_c && here.at_least_c.value_or(0) > kTemperate_c;
    if (here.fixed_c) *here.fixed_c -= cooler_c;
    here.offset_c -= cooler_c;
    if (is_overheated) here.at_least_c = kTemperate_c;
    change.limit.*place.lifted = Rewarmed{is_overheated ? kTemperate_c : 0, cooler_c};
  }
  changes.push_back(std::move(change));
}

/// Less chilling, where it is what puts off the first day to sow, and the plan sows soon after that.
void lift_chilling(const Model& model, SowingRange range, std::optional<int> own_day, std::vector<Lifting>& changes) {
  constexpr int kSoon = 14;
  const Goal& goal = model.goal();
  const int chilling = goal.lot.chill_days;
  const bool puts_off = chilling > 0 && !goal.sow_on && range.first == model.day(goal.today) + chilling;
  if (!puts_off || (own_day && *own_day > range.first + kSoon)) return;
  for (const int fewer : {chilling / 2, 0}) {
    changes.push_back({{.kind = LimitKind::chilling, .chill_days = fewer}, goal});
    changes.back().goal.lot.chill_days = fewer;
  }
}

/// Each rung that is not good already, at the best that is believed of it, or well practised.
void lift_rates(const Goal& goal, std::vector<Lifting>& changes) {
  for (const growth::RungRow& row : growth::kRungs) {
    if (!goal.matters(row.rung)) continue;
    double best = 0;
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const RateBelief& belief = belief_of(goal, row.rung, w);
      const auto beta = evidence::beta_of(belief);
      best = std::max(best, beta ? beta->quantile(0.95) : std::get<Known>(belief.belief).share);
    }
    if (std::holds_alternative<Known>(belief_of(goal, row.rung, 0).belief)) {
      if (best >= kGoodShare) continue;
      best = kGoodShare;
    }
    changes.push_back({{.kind = LimitKind::rate, .rung = row.rung, .share = best}, goal});
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      RateBelief& belief = belief_of(changes.back().goal, row.rung, w);
      belief = {Known{best}, belief.batch_spread};
    }
  }
}

/// Those of the weather seasons that the first replicates of the futures use.
climate::WeatherSeasons in_use(const climate::WeatherSeasons& weather, const Futures& futures) {
  int count = 1;
  for (int f = 0; f < futures.count(); ++f) count = std::max(count, futures.weather(f) + 1);
  const auto size = static_cast<std::ptrdiff_t>(count) * weather.days;
  return {.first = weather.first,
          .days = weather.days,
          .count = count,
          .origin = weather.origin,
          .tmin_c = {weather.tmin_c.begin(), weather.tmin_c.begin() + size},
          .tmax_c = {weather.tmax_c.begin(), weather.tmax_c.begin() + size}};
}

std::vector<Lifting> liftings(const Model& model, std::optional<int> own_day, bool met) {
  const Goal& goal = model.goal();
  const SowingRange range = sowing_range(goal, model.sums());
  std::vector<Lifting> changes;
  lift_room(model, changes);
  lift_days(model, range, changes);
  lift_chilling(model, range, own_day, changes);
  for (const Place& place : kPlaces) {
    lift_cold(goal, {&place, 1}, changes);
    lift_heat(goal, {&place, 1}, changes);
  }
  if (!met) lift_rates(goal, changes);
  return changes;
}

/// Seedbed and bench at once, for a goal that neither alone brings within reach.
std::vector<Lifting> liftings_of_both(const Goal& goal) {
  std::vector<Lifting> changes;
  lift_cold(goal, kPlaces, changes);
  lift_heat(goal, kPlaces, changes);
  return changes;
}

bool is_of_warmth(const Limit& limit) { return limit.kind == LimitKind::cold || limit.kind == LimitKind::hot; }

/// Of two that exclude each other, or are told elsewhere together, one is named: a position is too cold or too hot, and
/// what rates but the worst would bring is in the table of what not knowing costs.
bool are_one(const Limit& a, const Limit& b) {
  if (!is_of_warmth(a)) return a.kind == b.kind;
  return is_of_warmth(b) && a.seedbed.has_value() == b.seedbed.has_value();
}

/// The best of each kind, those that help most first.
std::vector<Found> best_of_each(std::vector<Found> found) {
  std::ranges::stable_sort(found, needs_fewer, &Found::asked);
  std::vector<Found> best;
  for (Found& one : found) {
    const auto same = [&](const Found& other) { return are_one(other.limit, one.limit); };
    if (std::ranges::none_of(best, same)) best.push_back(std::move(one));
  }
  return best;
}

}  // namespace

Date last_later_date(const Goal& goal) {
  constexpr Days kLater{240};
  constexpr Days kAfterWinter{15};
  if (!goal.reaches(Rung::winter)) return goal.by + kLater;
  const Date winter_over = std::max(goal.by, goal.winter_ends);
  return std::max(winter_over + kLater, same_day_in(goal.winter_ends, year_of(goal.winter_ends) + 1) + kAfterWinter);
}

void most_help_first(std::vector<Limit>& limits) {
  std::ranges::stable_sort(limits, [](const Limit& a, const Limit& b) {
    if (!a.lifted || !b.lifted) return a.lifted.has_value() && !b.lifted;
    return needs_fewer({a.lifted->seeds, a.lifted->assurance}, {b.lifted->seeds, b.lifted->assurance});
  });
}

Steps<double> name_limits(const Model& model, const climate::WeatherSeasons& weather, std::optional<int> own_day,
                          Workers workers, Plan& plan) {
  constexpr double kFirstLook = 0.8;  // of the work
  const Goal& goal = model.goal();
  if (goal.is_before_winter_ends()) co_return;
  const auto fewer = in_use(weather, WhatIf::futures_of(model));
  const WhatIf unchanged(model, goal, model.setting().sums, workers);
  const int sensible = sensible_seeds(goal);
  const Asked now = own_day ? unchanged.on(*own_day, sensible) : unchanged.about({}, sensible);
  const int limit = now.seeds ? static_cast<int>(std::min(*now.seeds * kSaves, plan.seeds_low * 1.0)) : sensible;
  if (limit <= 0) co_return;
  std::vector<Found> found;
  const auto look = [&](Lifting& change) {
    auto sums = is_of_warmth(change.limit)
                    ? std::make_shared<const ThermalSums>(thermal_sums(change.goal, fewer, workers))
                    : model.setting().sums;
    WhatIf lifted(model, std::move(change.goal), std::move(sums), workers);
    const Asked asked = lifted.about(own_day, limit);
    if (!asked.seeds && (now.seeds || asked.best_chance <= now.best_chance + kHelps)) return;
    found.push_back({change.limit, std::move(lifted), asked});
  };
  std::vector<Lifting> changes = liftings(model, own_day, plan.met);
  for (std::size_t i = 0; i < changes.size(); ++i) {
    co_yield kFirstLook* static_cast<double>(i) / static_cast<double>(changes.size());
    look(changes[i]);
  }
  if (!now.seeds && std::ranges::none_of(found, is_of_warmth, &Found::limit)) {
    for (Lifting& change : liftings_of_both(goal)) look(change);
  }
  found = best_of_each(std::move(found));
  for (Found& one : found) {
    co_yield kFirstLook;
    one.asked = one.lifted.closer(one.asked, limit);
    one.limit.lifted = Lifted{one.asked.seeds, one.asked.best_chance, now.best_chance};
    plan.limits.push_back(one.limit);
  }
  most_help_first(plan.limits);
}

void leave_unsown(const Goal& goal, Plan& plan) {
  plan.seeds = goal.seeds_in_hand.value_or(0);
  plan.shares.assign(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  plan.needs.wants.resize(goal.wants.size());
  for (std::size_t w = 0; w < goal.wants.size(); ++w) plan.needs.wants[w].base_form = goal.wants[w].base_form;
}

}  // namespace strikebed::season
