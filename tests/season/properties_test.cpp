// What must hold of any season, whatever the goal.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "example_goals.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

// More seeds never lower the assurance: every number from 20 to 1,000 and a comb up to 6,000, on one set of futures.
// Room is left for rounding where every seed is a try of its own; where sessions are full, the luck of a session is a
// whole number of cuttings, and its steps make falls of up to 6e-5 (found with 4,816 seeds and room for 45): 1e-4 is
// allowed.
TEST(Properties, MoreSeedsNeverLowerTheAssurance) {
  for (const Example& example : twelve_examples()) {
    const double allowed = example.goal.sessions.cuttings_at_most ? 1e-4 : 1e-11;
    const Asked asked(example.goal, example.weather, 2, 6);
    const std::vector<Sowing> sowings = asked.sowings(example.sow);
    double most = 0;
    for (int seeds = 20; seeds <= 6'000; seeds += seeds < 1'000 ? 1 : 53) {
      const double now = asked.model().assurance(sowings, seeds, example.shares).chance;
      ASSERT_GE(now, most - allowed) << example.name << ", " << seeds << " seeds";
      most = std::max(now, most);
    }
    EXPECT_GT(most, 0.5) << example.name;
  }
}

// In a spring that stays below the optimum, every degree more brings every share of the sowing up no later.
TEST(Properties, WarmerSpringNeverDelaysEmergence) {
  Goal goal = weekend_goal({10});
  goal.species = doubtful_pine();
  goal.seedbed = {};
  constexpr int kSown = 60;  // days from 15 January
  constexpr int kSpring = 170;
  constexpr float kWarmest_c = 18;  // with four degrees more still below the optimum of 23
  climate::WeatherSeasons weather = mild_weather(goal);
  for (auto* temperatures : {&weather.tmin_c, &weather.tmax_c}) {
    for (float& temperature : *temperatures) temperature = std::min(temperature, kWarmest_c);
  }
  std::vector<std::vector<float>> before;
  for (int warmer_c = 0; warmer_c <= 4; ++warmer_c) {
    const Asked asked(goal, weather, 2, 6);
    std::vector<std::vector<float>> now;
    for (int f = 0; f < asked.model().futures().count(); ++f) {
      const Timing& timing = asked.model().timing(f);
      const int season = asked.model().futures().weather(f);
      std::vector<float> emerged = emerged_by_day(timing, asked.sums().germination.season(season), kSown, kSpring);
      emerged.resize(kSpring - kSown, emerged.back());
      now.push_back(emerged);
    }
    for (std::size_t f = 0; f < before.size(); ++f) {
      for (std::size_t d = 0; d < before[f].size(); ++d) {
        ASSERT_GE(now[f][d], before[f][d] - 1e-6F) << "future " << f << ", day " << d << ", " << warmer_c << " more";
      }
    }
    before = now;
    for (auto* temperatures : {&weather.tmin_c, &weather.tmax_c}) {
      for (float& temperature : *temperatures) temperature += 1;
    }
  }
  for (const std::vector<float>& emerged : before) EXPECT_GT(emerged.back(), 0.5F);  // or nothing was tested
}

// Offered shares are shares: none below 0, at most 1 together, and 1 when nothing limits.
TEST(Properties, OfferedSharesAreAtMostAllAndAllWhenNothingLimits) {
  for (const Example& example : twelve_examples()) {
    const Asked asked(example.goal, example.weather, 2, 6);
    for (const Sowing& sowing : asked.sowings(example.sow)) {
      for (int f = 0; f < asked.model().futures().count(); ++f) {
        double sum = 0;
        for (int s = 0; s < asked.model().sessions().count(); ++s) {
          const auto offered = static_cast<double>(sowing->offers->offered[sowing->offers->at(f, s)]);
          ASSERT_GE(offered, 0) << example.name;
          sum += offered;
        }
        ASSERT_LE(sum, 1 + 1e-6) << example.name;
      }
    }
  }
  const Goal goal = goal_without_limits(10);
  const Asked asked(goal, even_weather(goal.today, 330, 15), 2, 2);
  const Sowing sowing = asked.model().sowing(0);
  double sum = 0;
  for (int s = 0; s < asked.model().sessions().count(); ++s) {
    sum += static_cast<double>(sowing->offers->offered[sowing->offers->at(0, s)]);
  }
  EXPECT_NEAR(sum, 1, 1e-6);
}

// Knowing something that plays no part (the winter, when plants are counted weaned) changes nothing at all.
TEST(Properties, KnowingWhatPlaysNoPartChangesNothing) {
  Goal goal = weekend_goal({40});
  goal.rates[Rung::germination] = tested(41, 50, 0.3);
  goal.rates[Rung::winter] = ranged(0.5, 0.8, 0.95, 0.5);
  goal.sessions.cuttings_at_most = 20;
  const climate::WeatherSeasons weather = mild_weather(goal);
  const Asked asked(goal, weather, 4, 8);
  const std::vector<double> shares{1.0};
  const std::vector<Sowing> sowings = asked.sowings({make_date(2027, 4, 3)});
  const double before = asked.model().assurance(sowings, 180, shares, Precision::exact).chance;
  const Model& model = asked.model();
  const auto pinned_chance = [&](const DrawName& name) {
    const Model pinned(model.setting(), model.futures().with_known(name, -1.3), {});
    const std::vector<Sowing> again{pinned.sowing(asked.day(make_date(2027, 4, 3)))};
    return pinned.assurance(again, 180, shares, Precision::exact).chance;
  };
  EXPECT_EQ(pinned_chance(model.chain().shared(Rung::winter).draw), before);
  EXPECT_EQ(pinned_chance(model.chain().shared(Rung::winter).batch), before);
  EXPECT_NE(pinned_chance(model.chain().shared(Rung::germination).draw), before);
}

}  // namespace
}  // namespace strikebed::season
