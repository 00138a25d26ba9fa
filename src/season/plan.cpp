#include "season/plan.hpp"

#include <algorithm>
#include <cmath>

#include "season/limits.hpp"
#include "season/needs.hpp"
#include "season/seed_search.hpp"
#include "season/sowing_sweep.hpp"
#include "season/timetable.hpp"
#include "season/unknowns.hpp"

namespace strikebed::season {
namespace {

constexpr int kSweepReplicates = 3;                 // are enough to compare dates
constexpr int kComb = 40;                           // sowing dates tried before the finer look
constexpr int kMarginDays = kLatestLater_days + 5;  // weather beyond `by`, to ask what a later date would do

struct Progress {
  const PlanOptions& options;
  void operator()(double done, const char* what) const {
    if (options.progress) options.progress(done, what);
  }
};

std::vector<CurvePoint> assurance_curve(const Model& model, std::span<const Sowing> sowings,
                                        std::span<const double> shares, int seeds) {
  std::vector<CurvePoint> curve;
  for (const double factor : {0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.15, 1.3, 1.5, 1.75, 2.0, 2.5, 3.0}) {
    const int n = std::max(static_cast<int>(std::lround(seeds * factor)), 1);
    if (!curve.empty() && curve.back().seeds == n) continue;
    curve.push_back({n, model.assurance(sowings, n, shares).chance});
  }
  return curve;
}

/// With so many seeds in hand, the day that makes the most of them; the earliest within half a percent.
int surest_day(const Model& model, SowingRange range, int seeds, const Workers& workers) {
  const int step = std::max((range.last - range.first) / kComb, 1);
  std::vector<int> days;
  for (int day = range.first; day <= range.last; day += step) days.push_back(day);
  std::vector<double> chance(days.size());
  workers.run(static_cast<int>(days.size()), [&](int i) {
    const std::vector<Sowing> sowing{model.sowing(days[static_cast<std::size_t>(i)])};
    const FairShares fair = fair_shares(model, sowing, model.goal().assurance);
    chance[static_cast<std::size_t>(i)] = model.assurance(sowing, seeds, fair.shares).chance;
  });
  const double best = *std::ranges::max_element(chance);
  for (std::size_t i = 0; i < days.size(); ++i) {
    if (chance[i] >= best - 0.005) return days[i];
  }
  return days.front();
}

constexpr double kLongDay_h = 10;  // at the bench
constexpr double kHardWon = 0.05;  // more sureness for twice the seeds
constexpr double kHardly = 0.04;   // less sureness for far fewer seeds

/// For a goal out of reach: the fewest seeds, by halving, that make it hardly less sure than as many as are sensible.
int seeds_that_help(const Model& model, std::span<const Sowing> sowings, std::span<const double> shares, double best) {
  int seeds = sensible_seeds(model.goal());
  const double enough = std::max(best - kHardly, kWorthSowing);
  while (seeds > 1 && model.assurance(sowings, seeds / 2, shares).chance >= enough) seeds /= 2;
  return seeds;
}

}  // namespace

WeatherSpan weather_span(const Goal& goal) {
  const Date last = goal.count_at == CountAt::established ? std::max(goal.by, goal.winter_ends) : goal.by;
  const Date first = std::min(goal.today, goal.sow_on.value_or(goal.today));
  return {first, static_cast<int>((last - first).count()) + kMarginDays};
}

Plan make_plan(const Goal& goal, const climate::WeatherSeasons& weather, const PlanOptions& options) {
  const Progress progress{options};
  const Workers& workers = options.workers;
  progress(0, "warmth");
  const Chain chain(goal);
  const ThermalSums sums = thermal_sums(goal, weather, workers);
  const SessionDays sessions = session_days(goal, sums);
  const Futures futures = draw_futures(chain, weather.count, kReplicates, kLog2Points, options.seed);
  // Dates are compared in parallel, each by one hand.
  const Model rough(goal, chain, sums, sessions, first_replicates(futures, kSweepReplicates), Workers{});
  const SowingRange range = sowing_range(goal, sums);

  Plan plan;
  plan.weather = weather.origin;
  plan.futures = futures.count();
  if (range.first > range.last || sessions.count() == 0) {
    explain_empty_season(rough, weather, range, workers, plan);
    return plan;
  }

  progress(0.1, "sowing dates");
  const SowingSweep sweep =
      sweep_sowings(rough, kComb, workers, [&](double done) { progress(0.1 + 0.5 * done, "sowing dates"); });
  plan.sweep = sweep.points;
  if (sweep.last_day) plan.last_sowing = sums.first + Days{*sweep.last_day};
  const int best_day = goal.sow_on          ? range.first
                       : goal.seeds_in_hand ? surest_day(rough, range, *goal.seeds_in_hand, workers)
                                            : sweep.best_day.value_or(sweep.surest_day);
  const std::vector<int> days = stagger_sowings(rough, best_day, range);

  progress(0.6, "seed number");
  const Model model(goal, chain, sums, sessions, futures, workers);
  std::vector<Sowing> sowings;
  for (std::size_t i = 0; i < days.size(); ++i) sowings.push_back(model.sowing(days[i], static_cast<int>(i)));
  const SeedAnswer answer = seeds_for(model, sowings, goal.assurance, kMostSeeds, Precision::exact);
  plan.shares = answer.shares;
  const auto chance = [&](int seeds) { return model.assurance(sowings, seeds, plan.shares).chance; };
  if (goal.seeds_in_hand) {
    plan.seeds = *goal.seeds_in_hand;
  } else if (answer.seeds) {
    plan.seeds = *answer.seeds;
  } else {
    progress(0.65, "the nearest goal");
    explain_unmet(rough, weather, days.front(), answer.best_chance, workers, plan);
    if (answer.best_chance < kWorthSowing) {
      leave_unsown(goal, plan);
      return plan;
    }
    plan.seeds = seeds_that_help(model, sowings, plan.shares, answer.best_chance);
  }
  const Assurance sure = model.assurance(sowings, plan.seeds, plan.shares, Precision::exact);
  plan.assurance = sure.chance;
  plan.assurance_error = sure.error;
  plan.met = sure.chance >= goal.assurance;
  if (plan.met && !goal.seeds_in_hand) {
    const Date chosen = sums.first + Days{days.back()};
    plan.last_sowing = std::max(plan.last_sowing.value_or(chosen), chosen);
    const CurvePoint half{plan.seeds / 2, chance(plan.seeds / 2)};
    if (half.assurance > goal.assurance - kHardWon) {
      plan.half = half;
      name_limits(rough, weather, days.front(), sure.chance, workers, plan);
    }
  }
  plan.seeds_low = plan.seeds_high = plan.seeds;
  if (answer.seeds && !goal.seeds_in_hand && sure.error > 0) {
    const double error = kScore95 * sure.error;
    const auto at = [&](double level) {
      return smallest_seeds(chance, std::clamp(level, 1e-4, 1 - 1e-9), plan.seeds, kMostSeeds, 0.001)
          .value_or(kMostSeeds);
    };
    plan.seeds_low = std::min(at(goal.assurance - error), plan.seeds);
    plan.seeds_high = std::max(at(goal.assurance + error), plan.seeds);
  }
  for (const int day : days) plan.sow_dates.push_back(sums.first + Days{day});
  plan.sow_seeds = split_evenly(plan.seeds, static_cast<int>(days.size()));
  plan.chill_start = plan.sow_dates.front() - Days{goal.chill_days};
  plan.curve = assurance_curve(model, sowings, plan.shares, plan.seeds);

  if (days.front() == range.first && held_up_by_short_days(goal, sums, range)) {
    plan.remarks.push_back({.kind = RemarkKind::short_days, .date = plan.sow_dates.front()});
  }

  progress(0.7, "sessions and dates");
  fill_timetable(model, sowings, plan);
  fill_needs(goal, plan);
  if (const auto longest = std::ranges::max_element(plan.sessions, {}, &SessionPlan::hours);
      longest != plan.sessions.end() && longest->hours > kLongDay_h) {
    plan.remarks.push_back({.kind = RemarkKind::long_day,
                            .date = longest->date,
                            .cuttings = longest->cuttings.typical,
                            .hours = longest->hours});
  }

  progress(0.75, "what not knowing costs");
  if (goal.seeds_in_hand && !answer.seeds)
    explain_unmet(rough, weather, days.front(), answer.best_chance, workers, plan);
  if (answer.seeds) plan.unknowns = cost_of_not_knowing(rough, days, plan.shares, plan.seeds, workers);
  for (SowingPoint& point : plan.sweep) {
    // What the sweep found roughly gives way to the answer.
    if (days.size() > 1 || point.sow != plan.sow_dates.front()) continue;
    point.seeds = answer.seeds;
    point.best_assurance = answer.best_chance;
  }
  progress(1, "done");
  return plan;
}

}  // namespace strikebed::season
