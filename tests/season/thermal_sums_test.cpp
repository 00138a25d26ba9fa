// The three clocks of the chain, where they can be told by hand.
#include "season/thermal_sums.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "example_goals.hpp"
#include "growth/response.hpp"
#include "season/offers.hpp"

namespace strikebed::season {
namespace {

// At 15 degC day and night: 15 - 6 = 9 degC d of germination and 15 - 5 = 10 of ripening a day. 1e-4 a day: single
// precision and a table of the response every 1/16 degC.
TEST(ThermalSums, EvenWarmthAddsUpDayByDay) {
  Goal goal = weekend_goal({10});
  goal.seedbed = {};
  goal.seedbed_lit = true;
  const climate::WeatherSeasons weather = even_weather(goal.today, 60, 15);
  const ThermalSums sums = thermal_sums(goal, weather, {});
  const double rooting_a_day = growth::thermal_time_per_day(
      growth::wang_engel_response(15, goal.species.rooting_temperature), goal.species.rooting_temperature);
  for (int day = 0; day <= 60; ++day) {
    EXPECT_NEAR(sums.germination.season(0)[day], 9.0 * day, 1e-4 * day + 1e-6);
    EXPECT_NEAR(sums.ripening.season(0)[day], 10.0 * day, 1e-4 * day + 1e-6);
    EXPECT_NEAR(sums.rooting.season(0)[day], rooting_a_day * day,
                2e-3 * day + 1e-6);  // the curve is bent between nodes
  }
}

// The worked example of docs/methods/thermal-time.md: sown in 15 degC, median 130 degC d and 60 through the cover. At
// 9 a day half of them are up 190 / 9 = 21.1 days after sowing, that is by the end of the 22nd day and not the 21st.
TEST(ThermalSums, WorkedExampleOfEmergence) {
  Goal goal = weekend_goal({10});
  goal.seedbed = {};
  const Asked asked(goal, even_weather(goal.today, 120, 15), 2, 1);
  const Timing& timing = asked.model().timing(0);
  const std::vector<float> emerging = emerging_by_day(timing, asked.sums().germination.season(0), 10, 100);
  const auto emerged = [&](int days) { return std::accumulate(emerging.begin(), emerging.begin() + days, 0.0F); };
  EXPECT_LT(emerged(21), 0.5F);
  EXPECT_GE(emerged(22), 0.5F);
  // After 22 days 198 - 60 = 138 degC d: Phi(ln(138 / 130) / 0.28) = Phi(0.2133) = 0.5845.
  EXPECT_NEAR(emerged(22), 0.5845, 1e-3);
}

// A heated seedbed never gains less than an unheated one while both stay below the optimum; neither clock runs back.
// 2e-3: the last digit of a single-precision sum of a few thousand degC d.
TEST(ThermalSums, HeatedSeedbedGainsNoLess) {
  Goal cold = weekend_goal({10});
  cold.seedbed = {};
  Goal heated = cold;
  heated.seedbed.at_least_c = 15;
  climate::WeatherSeasons weather = mild_weather(cold);
  for (auto* temperatures : {&weather.tmin_c, &weather.tmax_c}) {
    for (float& temperature : *temperatures) temperature = std::min(temperature, 22.0F);
  }
  const ThermalSums without = thermal_sums(cold, weather, {});
  const ThermalSums with = thermal_sums(heated, weather, {});
  for (int s = 0; s < weather.count; ++s) {
    for (int day = 0; day < weather.days; ++day) {
      const float gain = with.germination.season(s)[day + 1] - with.germination.season(s)[day];
      const float gain_without = without.germination.season(s)[day + 1] - without.germination.season(s)[day];
      ASSERT_GE(gain, gain_without - 2e-3F) << s << ", " << day;
      ASSERT_GE(gain_without, 0);
    }
  }
}

// At 47 degrees north 15 January has 8.9 hours of day, 20 February 10.6: unlit seedlings stand still, then grow in
// full. On 1 February, with 9.6, they grow at (9.6 - 9) / (10.5 - 9) of it.
TEST(ThermalSums, ShortDaysSlowUnlitSeedlings) {
  Goal goal = weekend_goal({10});
  goal.seedbed = {};
  const climate::WeatherSeasons weather = even_weather(goal.today, 60, 15);
  const ThermalSums unlit = thermal_sums(goal, weather, {});
  const auto gained = [&](const ThermalSums& sums, Date date) {
    const auto day = (date - goal.today).count();
    return static_cast<double>(sums.ripening.season(0)[day + 1] - sums.ripening.season(0)[day]);
  };
  EXPECT_EQ(gained(unlit, make_date(2027, 1, 15)), 0);
  EXPECT_NEAR(gained(unlit, make_date(2027, 2, 1)), 4.0, 0.4);
  EXPECT_NEAR(gained(unlit, make_date(2027, 2, 20)), 10, 1e-3);
  goal.seedbed_lit = true;
  EXPECT_NEAR(gained(thermal_sums(goal, weather, {}), make_date(2027, 1, 15)), 10, 1e-3);
}

// A frame three degrees above nights of -7.2 freezes at -4.2: 2^(4.2 / 0.7) = 64 doses. One held above freezing does
// not freeze at all.
TEST(ThermalSums, FrostIsThatOfThePosition) {
  Goal goal = weekend_goal({10});
  const climate::WeatherSeasons weather = even_weather(goal.today, 60, -7.2);
  goal.seedbed = {};
  goal.seedbed.offset_c = 3;
  goal.bench.at_least_c = 1;
  const ThermalSums sums = thermal_sums(goal, weather, {});
  ASSERT_NE(sums.seedbed_frost.season(0), nullptr);
  EXPECT_NEAR(sums.seedbed_frost.season(0)[30], 64, 1e-3);
  EXPECT_EQ(sums.bench_frost.season(0), nullptr);
}

}  // namespace
}  // namespace strikebed::season
