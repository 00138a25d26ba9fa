// Will there be enough, given what was seen: closed forms, and calibration over seasons lived seed by seed.
#include "season/forecast.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>

#include "base/random.hpp"
#include "example_goals.hpp"
#include "season/tray_left.hpp"
#include "tests/calibration.hpp"
#include "watched_season.hpp"

namespace strikebed::season {
namespace {

namespace support = testing_support;

/// One sowing in a warm bed, cut on Saturdays; everything uncertain, batches differ.
Goal watched_goal() {
  Goal goal = weekend_goal({60});
  goal.species = doubtful_pine();
  goal.seedbed.at_least_c = 18;
  goal.bench.at_least_c = 16;
  const RateBelief untested = ranged(0.52, 0.785, 0.945, 0.3);
  goal.rates = shared_rates({untested, ranged(0.75, 0.9, 0.97, 0.4), ranged(0.75, 0.88, 0.95, 0.3),
                             ranged(0.75, 0.88, 0.95, 0.3), known(0.9)});
  goal.wants[0].take = ranged(0.3, 0.65, 0.9, 0.5);
  goal.wants[0].grade = ranged(0.8, 0.9, 0.96, 0.2);
  goal.sessions.weekdays = {false, false, false, false, false, true, false};
  goal.sown = {{make_date(2027, 3, 20), 200, lot_named("of the test"), untested}};
  goal.today = make_date(2027, 3, 21);
  return goal;
}

/// All seasons with the days before `today` of one of them.
climate::WeatherSeasons as_it_was(climate::WeatherSeasons weather, int season, Date today) {
  const auto days = static_cast<std::ptrdiff_t>(weather.days);
  const std::ptrdiff_t known = std::clamp<std::ptrdiff_t>((today - weather.first).count(), 0, days);
  for (std::ptrdiff_t s = 0; s < weather.count; ++s) {
    for (auto* column : {&weather.tmin_c, &weather.tmax_c}) {
      std::copy_n(column->begin() + season * days, known, column->begin() + s * days);
    }
  }
  return weather;
}

Study study_of(Goal goal, const climate::WeatherSeasons& weather, Observed seen) {
  Study study(std::move(goal), weather, {.seen = std::make_shared<const Observed>(std::move(seen))});
  study.hold_sessions({.rhythm = Rhythm::week, .patience = 0});
  return study;
}

/// How far a forecast is from what came true: the integral of the squared difference of their distributions.
double crps(const CountForecast& counts, int truth) {
  constexpr int kMost = 400;
  double sum = 0;
  for (int k = 0; k < kMost; ++k) sum += std::pow(1 - counts.chance_at_least(k + 1) - (truth <= k ? 1 : 0), 2);
  return sum;
}

struct Scored {
  std::vector<double> ranks;
  double crps = 0;
  std::vector<double> effective;
};
using When = std::function<Date(const WatchedSeason&)>;

/// Forecasts of invented seasons, on a day of each; on none, the plan's own before anything was seen.
Scored scored(int seasons, const When& when, const OffTheModel& off = {}) {
  const Goal goal = watched_goal();
  const climate::WeatherSeasons weather = mild_weather(goal);
  const ThermalSums sums = thermal_sums(goal, weather, {});
  Scored scored;
  for (int k = 0; k < seasons; ++k) {
    const int came_true = k % weather.count;
    const WatchedSeason season(goal, sums, came_true, 1000 + static_cast<std::uint64_t>(k), off);
    Goal now = goal;
    if (when) now.today = when(season);
    Study study = study_of(now, as_it_was(weather, came_true, now.today), season.seen_before(now.today));
    const CountForecast counts = counts_of(study, 0);
    const double reached = counts.chance_at_least(season.counted());
    const double passed = counts.chance_at_least(season.counted() + 1);
    scored.ranks.push_back(1 - reached + (reached - passed) * random_uniform(7, static_cast<std::uint64_t>(k)));
    scored.crps += crps(counts, season.counted()) / seasons;
    scored.effective.push_back(study.futures().effective_count());
  }
  std::ranges::sort(scored.effective);
  return scored;
}

Date after_emergence(const WatchedSeason&) { return make_date(2027, 4, 26); }
/// The week-six count of the first cuttings is in.
Date after_rooting(const WatchedSeason& season) {
  return std::clamp(season.first_strike() + Days{43}, make_date(2027, 5, 1), make_date(2027, 9, 25));
}

void expect_calibrated(const Scored& scored) {
  const double n = static_cast<double>(scored.ranks.size());
  EXPECT_GT(support::uniformity_p(scored.ranks), 0.01);
  EXPECT_NEAR(support::coverage(scored.ranks, 0.5), 0.5, 3 * std::sqrt(0.25 / n));
  EXPECT_NEAR(support::coverage(scored.ranks, 0.9), 0.9, 3 * std::sqrt(0.09 / n));
  EXPECT_GT(scored.effective[scored.effective.size() / 20], 1000);  // in 95 of 100
}

TEST(Forecast, WithNothingSeenItIsThePlan) {
  const Goal goal = watched_goal();
  const climate::WeatherSeasons weather = mild_weather(goal);
  Study plan(goal, weather, {});
  Study forecast(goal, weather, {.seen = std::make_shared<const Observed>(Observed{.sowings = {{}}})});
  const std::vector<double> all{1.0};
  EXPECT_NEAR(forecast.how_sure(0, all, Look::whole).chance, plan.how_sure(0, all, Look::whole).chance, 0.01);
}

// All rates known, all cuttings rooted: each is one try.
TEST(Forecast, RootedCuttingsAreTriesOfTheirOwn) {
  Goal goal = weekend_goal({20});
  goal.sown = {{make_date(2027, 3, 20), 1, lot_named("that never came up"), known(0)}};  // weather from then on
  goal.today = make_date(2027, 8, 1);
  Observed seen;
  seen.strikes.push_back({.on = make_date(2027, 5, 1), .struck = 30, .rooted = {{make_date(2027, 7, 1), 30, 30}}});
  Study study = study_of(goal, mild_weather(goal), seen);
  const CountForecast counts = counts_of(study, 0);
  const double each = 0.88 * 0.9;  // weaned, with a good foot
  EXPECT_NEAR(counts.mean(), 30 * each, 1e-6);
  double expected = 0;
  for (int k = 20; k <= 30; ++k) {
    expected += std::exp(std::lgamma(31) - std::lgamma(k + 1) - std::lgamma(31 - k) + k * std::log(each) +
                         (30 - k) * std::log(1 - each));
  }
  EXPECT_NEAR(counts.chance_at_least(20), expected, 0.003);
  // Weaned and graded: what is known is no longer open.
  seen.strikes.back().weaned = SeenCount{make_date(2027, 7, 25), 24, 30};
  seen.strikes.back().graded = SeenCount{make_date(2027, 7, 26), 21, 24};
  Study known = study_of(goal, mild_weather(goal), seen);
  EXPECT_NEAR(counts_of(known, 0).mean(), 21, 1e-6);
  EXPECT_EQ(counts_of(known, 0).point(0.05), counts_of(known, 0).point(0.95));
}

// Seeds that are up are counted as up: with 150 of 200 up the forecast is that of 150 seedlings.
TEST(Forecast, SeedlingsThatAreUpAreCountedAsUp) {
  Goal goal = weekend_goal({20});
  goal.sown = {{make_date(2027, 3, 20), 200, lot_named("of the test"), known(0.82)}};
  goal.today = make_date(2027, 6, 1);
  Observed seen{.sowings = {{.emerged = {{make_date(2027, 5, 25), 150, 200}}, .tray = {}}}};
  Study study = study_of(goal, mild_weather(goal), seen);
  const double by_count = counts_of(study, 0).mean();
  Study plan(goal, mild_weather(goal), {});
  const std::vector<Sowing> sowings = plan.sowings(Look::whole);
  const std::vector<double> all{1.0};
  double by_plan = 0;
  const Model& model = plan.outlook(Look::whole).model();
  for (int f = 0; f < model.futures().count(); ++f) {
    by_plan += model.counted(sowings, split_seeds(0, sowings), all, f).mean[0] / model.futures().count();
  }
  EXPECT_NEAR(by_count / by_plan, 150 / (200 * 0.82), 0.05);
}

// Contradictions widen and never break: more up than were sown, more struck than stood, counts out of order.
TEST(Forecast, ContradictionsDoNotBreakIt) {
  Goal goal = watched_goal();
  goal.today = make_date(2027, 6, 10);
  Observed seen;
  seen.sowings.push_back(
      {.emerged = {{make_date(2027, 4, 20), 300, 200},
                   {make_date(2027, 4, 10), 120, 100},
                   {make_date(2027, 3, 1), 9, 0}},
       .tray = {{make_date(2027, 5, 30), {0, 0, 400, 0}, 10, 500, 70}, {make_date(2027, 5, 20), {}, 0, 4, 0}}});
  seen.sessions = {{make_date(2027, 5, 30), 12, 3}, {make_date(2027, 5, 30), 0, 0}};
  seen.strikes = {{.on = make_date(2027, 5, 30),
                   .struck = 5,
                   .rooted = {{make_date(2027, 5, 20), 9, 3}},
                   .lost = {{make_date(2027, 5, 25), 50}}},
                  {.on = make_date(2027, 6, 1),
                   .sowing = 7,
                   .struck = 0,
                   .weaned = SeenCount{make_date(2027, 6, 2), 9, 4},
                   .gone = 11}};
  Study study = study_of(goal, mild_weather(goal), seen);
  const Forecast forecast = forecast_of(study);
  EXPECT_TRUE(std::isfinite(forecast.assurance));
  EXPECT_LE(forecast.wants[0].plants.p05, forecast.wants[0].plants.p95);
}

/// Up since a clock that brings 10 degC d a day, with demands about `median`.
TrayLeft one_cohort(const TraySeen& seen, float median, float emerged_clock) {
  std::vector<float> ripening;
  for (int d = 0; d < 100; ++d) ripening.push_back(static_cast<float>(10 * d));
  Timing timing{};
  timing.ripening_log_median = std::log(median);
  timing.ripening_spread = 0.25F;
  timing.window_ratio = 2.5F;
  TrayLeft left(seen);
  left.begin(ripening.data(), timing);
  left.add(emerged_clock, 0.25F, 1);
  left.finish();
  return left;
}

TEST(TrayLeft, WithoutCutsAllAreLeft) {
  TraySeen seen;
  seen.looks.push_back({40, {}});
  const TrayLeft left = one_cohort(seen, 300, 50);
  EXPECT_NEAR(left.left(0), 1, 1e-5F);
  std::vector<float> share{0.1F, 0.6F};
  left.turn(0, std::vector<float>{200, 350}, share);
  EXPECT_NEAR(share[0], 0.1F, 1e-5F);
  EXPECT_NEAR(share[1], 0.6F, 1e-5F);
}

// The red ones were cut, half of the rest was read as turning: against one seedling at a time.
TEST(TrayLeft, IsWhatIsLeftOneSeedlingAtATime) {
  constexpr float kGained = 350;  // at the look
  TraySeen seen;
  seen.looks.push_back({40, {0, 0, 1, 1}});
  seen.read_and_left = {60, 60, 0, 0};
  seen.left = 120;
  const TrayLeft left = one_cohort(seen, 400, 400 - kGained);
  const auto misreading = evidence::read_as_neighbour(kMisreadSigns);
  constexpr int kSeedlings = 400'000;
  std::array<double, 2> all{};    // left, as read green or turning
  std::array<double, 2> below{};  // of those, with a demand below 420
  for (int i = 0; i < kSeedlings; ++i) {
    const double demand = 400 * std::exp(0.25 * normal_quantile((i + 0.5) / kSeedlings));
    const double ripe = static_cast<double>(kGained) / demand;
    const std::size_t sign = ripe >= 2.5 ? 3 : ripe >= 1 ? 2 : ripe >= kTurningPart ? 1 : 0;
    for (std::size_t read = 0; read < 2; ++read) {
      all[read] += misreading[sign][read];
      below[read] += demand < 420 ? misreading[sign][read] : 0;
    }
  }
  const double expected = 0.5 * below[0] / all[0] + 0.5 * below[1] / all[1];
  std::vector<float> share{static_cast<float>(normal_share_below(std::log(420.0 / 400) / 0.25))};
  left.turn(0, std::vector<float>{420}, share);
  EXPECT_NEAR(static_cast<double>(share[0] / left.left(0)), expected, 0.002);
}

TEST(Forecast, CalibratedOverInventedSeasons) {
  expect_calibrated(scored(24, after_emergence));
  expect_calibrated(scored(24, after_rooting));
}

// Results: docs/methods/forecast.md.
TEST(LongForecast, CalibratedOverInventedSeasonsAndLearns) {
  constexpr int kSeasons = 500;
  const Scored plan = scored(kSeasons, {});
  const Scored emergence = scored(kSeasons, after_emergence);
  const Scored rooting = scored(kSeasons, after_rooting);
  for (const Scored* one : {&plan, &emergence, &rooting}) {
    expect_calibrated(*one);
    RecordProperty("crps", std::to_string(one->crps));
    std::printf(
        "CRPS %.2f, uniform p %.3f, 50 %% range %.3f, 90 %% range %.3f, effective futures: least %.0f, 5 %% %.0f, half "
        "%.0f\n",
        one->crps, support::uniformity_p(one->ranks), support::coverage(one->ranks, 0.5),
        support::coverage(one->ranks, 0.9), one->effective.front(), one->effective[kSeasons / 20],
        one->effective[kSeasons / 2]);
  }
  EXPECT_LT(emergence.crps, plan.crps);
  EXPECT_LT(rooting.crps, 0.65 * plan.crps);
}
// Signs read worse, batches more different, slower than believed: no bounds, only what it is.
TEST(LongForecast, OffTheModel) {
  for (const OffTheModel& off :
       {OffTheModel{.misread = 0.3}, OffTheModel{.batch_spread_factor = 2}, OffTheModel{.time_factor = 1.3}}) {
    const Scored now = scored(200, after_rooting, off);
    std::printf("misread %.2f, batches %.1f, times %.1f: CRPS %.2f, 50 %% range %.3f, 90 %% range %.3f\n", off.misread,
                off.batch_spread_factor, off.time_factor, now.crps, support::coverage(now.ranks, 0.5),
                support::coverage(now.ranks, 0.9));
    EXPECT_GT(support::coverage(now.ranks, 0.9), 0.6);
  }
}

}  // namespace
}  // namespace strikebed::season
