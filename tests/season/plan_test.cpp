// Whole plans: the same whatever the number of threads, mirrored between the hemispheres, steady between random seeds.
#include "season/plan.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <fstream>
#include <sstream>
#include <thread>

#include "climate/csv_reader.hpp"
#include "example_goals.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

/// So many threads, each taking the next job.
Workers threads(int hands) {
  return {hands, [hands](int jobs, const std::function<void(int)>& job) {
            std::atomic<int> next{0};
            std::vector<std::jthread> pool;
            for (int hand = 0; hand < hands; ++hand) {
              pool.emplace_back([&] {
                for (int i = next++; i < jobs; i = next++) job(i);
              });
            }
          }};
}

Example example(const std::string& name) {
  for (const Example& one : twelve_examples()) {
    if (one.name == name) return one;
  }
  ADD_FAILURE() << "no example " << name;
  return {};
}

// Every number, date and word of the plan, with a cap, two wants and a second sowing allowed.
TEST(PlanThreads, PlanIsTheSameWith1And2And7) {
  Example asked = example("TwoTakesAndAShortWindow");
  asked.goal.sessions.sowings_at_most = 2;
  const auto plan = [&](int hands) {
    return make_plan(asked.goal, asked.weather, {.seed = 5, .workers = threads(hands), .progress = {}});
  };
  const Plan one = plan(1);
  EXPECT_TRUE(one.met);
  EXPECT_TRUE(one == plan(2));
  EXPECT_TRUE(one == plan(7));
}

// And of a goal that is out of reach, with what limits it and the nearest that can be met.
TEST(PlanThreads, HopelessPlanIsTheSameWith1And7) {
  Example asked = example("RootedOnSaturdays");
  asked.goal.sessions.cuttings_at_most = 3;
  const auto plan = [&](int hands) {
    return make_plan(asked.goal, asked.weather, {.seed = 5, .workers = threads(hands), .progress = {}});
  };
  const Plan one = plan(1);
  EXPECT_FALSE(one.met);
  EXPECT_TRUE(one == plan(7));
}

// The same weather half a year (26 weeks, so that weekends stay weekends) later and as far south gives the same plan
// half a year later. Day lengths of the two half years differ by some minutes, so numbers agree within 2 % and dates
// within a week.
TEST(PlanHemispheres, MirroredWeatherGivesAMirroredPlan) {
  constexpr Days kHalfYear{182};
  const Example north = example("TwoTakesAndAShortWindow");
  Goal south = north.goal;
  south.site.latitude_deg = -north.goal.site.latitude_deg;
  for (Date* date : {&south.today, &south.by, &south.winter_starts, &south.winter_ends}) *date += kHalfYear;
  climate::WeatherSeasons mirrored = north.weather;
  mirrored.first += kHalfYear;
  const Plan a = make_plan(north.goal, north.weather, {.seed = 1, .workers = threads(2), .progress = {}});
  const Plan b = make_plan(south, mirrored, {.seed = 1, .workers = threads(2), .progress = {}});
  ASSERT_TRUE(a.met);
  ASSERT_TRUE(b.met);
  EXPECT_NEAR(b.seeds, a.seeds, 0.02 * a.seeds);
  EXPECT_LE(std::abs((b.sow_dates[0] - kHalfYear - a.sow_dates[0]).count()), 7);
  EXPECT_LE(std::abs((*b.last_sowing - kHalfYear - *a.last_sowing).count()), 7);
  EXPECT_LE(std::abs((b.count_date - kHalfYear - a.count_date).count()), 7);
}

/// The example of the goal file on the demo's recorded weather, with beliefs like those of a profile.
Goal seattle_goal() {
  Goal goal = weekend_goal({60, 8});
  goal.species = doubtful_pine();
  goal.today = make_date(2027, 1, 17);
  goal.site = {47.6, -122.3, 20};
  goal.seedbed.at_least_c = 18;
  goal.rates = {tested(41, 50, 0.3), ranged(0.75, 0.9, 0.97, 0.4), known(0.88), known(0.88), known(0.9)};
  goal.wants[0].take = goal.wants[1].take = ranged(0.3, 0.65, 0.9, 0.5);
  goal.sessions.cuttings_at_most = 48;
  return goal;
}

climate::WeatherSeasons seattle_weather(const Goal& goal, std::uint64_t seed) {
  static const climate::WeatherRecord record = [] {
    std::ifstream file(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv", std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return climate::read_weather_csv(text.str(), "seattle-2012-2015.csv").value();
  }();
  constexpr int kSeasons = 1024;  // as the nursery asks for
  const WeatherSpan span = weather_span(goal);
  return climate::weather_seasons(record, span.first, span.days, kSeasons, seed).value();
}

// Twenty random seeds, of the futures and of the weather made from the record: seed numbers within 2 % of their median,
// and the scatter of the assurance at the median number between 0.5 and 1.5 times its mean stated error (the sd of
// twenty numbers is itself known to 16 %).
TEST(LongScatter, TwentyRandomSeedsAgreeWithinTheStatedError) {
  const Goal goal = seattle_goal();
  std::vector<int> numbers;
  constexpr int kTries = 20;
  const Date sow =
      make_plan(goal, seattle_weather(goal, 1), {.seed = 1, .workers = threads(2), .progress = {}}).sow_dates[0];
  for (std::uint64_t seed = 1; seed <= kTries; ++seed) {
    const Plan plan =
        make_plan(goal, seattle_weather(goal, seed), {.seed = seed, .workers = threads(2), .progress = {}});
    numbers.push_back(plan.seeds);
    fmt::print("seed {}: {} seeds ({} to {}), sown {}, {:.4f} +- {:.4f}\n", seed, plan.seeds, plan.seeds_low,
               plan.seeds_high, to_iso(plan.sow_dates[0]), plan.assurance, plan.assurance_error);
  }
  std::vector<int> sorted = numbers;
  std::ranges::sort(sorted);
  const int median = sorted[kTries / 2];
  for (const int number : numbers) EXPECT_NEAR(number, median, 0.02 * median);

  std::vector<double> chances;
  double stated = 0;
  std::vector<double> shares;
  for (std::uint64_t seed = 1; seed <= kTries; ++seed) {
    const Asked one(goal, seattle_weather(goal, seed), 12, 9, seed);
    const std::vector<Sowing> sowings = one.sowings({sow});
    if (shares.empty()) shares = seeds_for(one.model(), sowings, goal.assurance, kMostSeeds, Precision::exact).shares;
    const Assurance sure = one.model().assurance(sowings, median, shares, Precision::exact);
    chances.push_back(sure.chance);
    stated += sure.error / kTries;
  }
  double mean = 0;
  for (const double chance : chances) mean += chance / kTries;
  double squares = 0;
  for (const double chance : chances) squares += (chance - mean) * (chance - mean);
  const double sd = std::sqrt(squares / (kTries - 1));
  fmt::print("median {} seeds; assurance {:.4f}, sd {:.5f}, stated {:.5f}, ratio {:.2f}\n", median, mean, sd, stated,
             sd / stated);
  EXPECT_GT(sd, 0.5 * stated);
  EXPECT_LT(sd, 1.5 * stated);
}

}  // namespace
}  // namespace strikebed::season
