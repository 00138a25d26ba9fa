#include "season/limits.hpp"

#include <algorithm>
#include <cmath>

#include "evidence/beta.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr double kSaves = 0.9;     // of the seeds is worth naming: it is not the scatter of the futures
constexpr double kWarmBed_c = 18;  // a heated seedbed, and a bench warm enough to root at any time of year
constexpr double kWarmBench_c = 18;
constexpr double kCooler_c = 3;      // by shade and air
constexpr double kTemperate_c = 21;  // what is held warmer is held too warm for pines
constexpr double kGoodShare = 0.9;   // of any rung, practised well
constexpr int kFewReplicates = 2;    // of the futures are enough to tell what helps

/// The goal changed in one respect, and the limit that lifts.
struct Lifting {
  Limit limit;
  Goal goal;
  bool other_warmth = false;  ///< it changes how warm it is somewhere
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
    if (range.first <= range.last && model.sessions().count() > 0) {
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

/// Warmer, where it is not warm already, and cooler, at one of the two positions.
void lift_warmth(const Goal& goal, shelter::Position Goal::* position, double warm_c, LimitKind cold, LimitKind hot,
                 std::vector<Lifting>& changes) {
  const shelter::Position& now = goal.*position;
  if (now.fixed_c.value_or(now.at_least_c.value_or(-99)) < warm_c) {
    changes.push_back({{.kind = cold, .heated_c = warm_c}, goal, true});
    shelter::Position& warmer = changes.back().goal.*position;
    (now.fixed_c ? warmer.fixed_c : warmer.at_least_c) = warm_c;
  }
  const double cooler_c = now.fixed_c ? *now.fixed_c - kTemperate_c : kCooler_c;
  if (cooler_c <= 0) return;
  changes.push_back({{.kind = hot, .cooler_c = cooler_c}, goal, true});
  shelter::Position& cooler = changes.back().goal.*position;
  if (cooler.fixed_c) *cooler.fixed_c -= cooler_c;
  cooler.offset_c -= cooler_c;
  if (cooler.at_least_c) cooler.at_least_c = std::min(*cooler.at_least_c, kTemperate_c);
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

/// What helps more comes first: fewer seeds, or more sureness.
bool helps_more(const Limit& a, const Limit& b) {
  const int seeds_a = a.lifted->seeds.value_or(kMostSeeds + 1);
  const int seeds_b = b.lifted->seeds.value_or(kMostSeeds + 1);
  return seeds_a != seeds_b ? seeds_a < seeds_b : a.lifted->assurance > b.lifted->assurance;
}

}  // namespace

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

Asked ask_changed(const Model& model, const Goal& goal, const std::shared_ptr<const ThermalSums>& sums,
                  const std::vector<int>& days, const Workers& workers, int limit) {
  BenchHabit habit = model.setting().habit;
  if (!goal.sessions.cuttings_at_most) habit.patience = kMostPatience;
  Setting setting{goal, model.setting().chain, sums, session_days(goal, *sums, habit), habit};
  if (!same_beliefs(goal, model.goal())) setting.chain = std::make_shared<const Chain>(goal);
  Asked asked;
  if (setting.sessions.count() == 0 || days.empty()) return asked;
  const Model changed(std::move(setting), model.futures().first(kFewReplicates), Workers{});
  std::vector<SeedAnswer> answers(days.size());
  const auto answer_for = [&](std::size_t i, int at_most) {
    const std::vector<Sowing> sowing{changed.sowing(days[i])};
    answers[i] = seeds_for(changed, sowing, goal.assurance, at_most, Precision::quick);
  };
  // Another day is an answer only where it needs fewer than the first, which is often the best.
  answer_for(0, limit);
  const int at_most = answers.front().seeds.value_or(limit);
  workers.run(static_cast<int>(days.size()) - 1, [&](int i) { answer_for(static_cast<std::size_t>(i) + 1, at_most); });
  for (const SeedAnswer& answer : answers) {
    asked.best_chance = std::max(asked.best_chance, answer.best_chance);
    if (answer.seeds) asked.seeds = std::min(asked.seeds.value_or(*answer.seeds), *answer.seeds);
  }
  return asked;
}

Steps<double> name_limits(const Model& model, const climate::WeatherSeasons& weather, std::optional<int> own_day,
                          Workers workers, Plan& plan) {
  const Goal& goal = model.goal();
  if (goal.is_before_winter_ends()) co_return;
  const SowingRange range = sowing_range(goal, model.sums());
  std::vector<Lifting> changes;
  lift_room(model, changes);
  lift_days(model, range, changes);
  lift_warmth(goal, &Goal::seedbed, kWarmBed_c, LimitKind::cold_seedbed, LimitKind::hot_seedbed, changes);
  lift_warmth(goal, &Goal::bench, kWarmBench_c, LimitKind::cold_bench, LimitKind::hot_bench, changes);
  if (!plan.met) lift_rates(goal, changes);
  const auto fewer = in_use(weather, model.futures().first(kFewReplicates));
  const std::vector<int> own = own_day ? std::vector{*own_day} : days_to_try({}, range);
  const Asked now = ask_changed(model, goal, model.setting().sums, own, workers, sensible_seeds(goal));
  const int worth_naming = now.seeds ? static_cast<int>(std::min(*now.seeds * kSaves, plan.seeds_low * 1.0)) : 0;
  std::vector<Limit> found;
  for (std::size_t i = 0; i < changes.size(); ++i) {
    co_yield static_cast<double>(i) / static_cast<double>(changes.size());
    Lifting& change = changes[i];
    const auto sums = change.other_warmth
                          ? std::make_shared<const ThermalSums>(thermal_sums(change.goal, fewer, workers))
                          : model.setting().sums;
    const int limit = now.seeds ? worth_naming : sensible_seeds(change.goal);
    if (limit < 1) continue;
    const Asked asked =
        ask_changed(model, change.goal, sums, days_to_try(own_day, sowing_range(change.goal, *sums)), workers, limit);
    if (!asked.seeds && (now.seeds || asked.best_chance <= now.best_chance + kHelps)) continue;
    change.limit.lifted = Lifted{asked.seeds, asked.best_chance, now.best_chance};
    found.push_back(change.limit);
  }
  // One rung at most: what the others would bring is in the table of what not knowing costs.
  std::ranges::stable_sort(found, helps_more);
  bool rung_named = false;
  for (const Limit& limit : found) {
    if (limit.kind == LimitKind::rate && std::exchange(rung_named, true)) continue;
    plan.limits.push_back(limit);
  }
}

void leave_unsown(const Goal& goal, Plan& plan) {
  plan.seeds = goal.seeds_in_hand.value_or(0);
  plan.shares.assign(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  plan.needs.wants.resize(goal.wants.size());
  for (std::size_t w = 0; w < goal.wants.size(); ++w) plan.needs.wants[w].base_form = goal.wants[w].base_form;
}

}  // namespace strikebed::season
