#include "climate/missing.hpp"

#include <gtest/gtest.h>

#include "climate/humid_air.hpp"
#include "tests/climate/seattle.hpp"

namespace strikebed::climate {
namespace {

const Site kSite{.latitude_deg = 47.6, .longitude_deg = -122.3, .elevation_m = 20};

TEST(Missing, IsEstimatedAndFlagged) {
  const auto full = completed(day_with(make_date(2026, 6, 21), 11, 23), kSite);
  ASSERT_TRUE(full.has_value());
  EXPECT_TRUE(full->humidity_estimated && full->wind_estimated && full->radiation_estimated);
  EXPECT_DOUBLE_EQ(full->vapour_kpa, saturation_kpa(11));
  EXPECT_DOUBLE_EQ(full->wind_m_s, 2);
  const auto coast = completed(day_with(make_date(2026, 6, 21), 11, 23), kSite, Setting::coast);
  EXPECT_NEAR(coast->radiation_mj_m2 / full->radiation_mj_m2, 0.19 / 0.16, 1e-9);
}

TEST(Missing, LeavesWhatWasMeasured) {
  Day day = day_with(make_date(2026, 6, 21), 11, 23);
  day.humidity_pct = 60;
  day.wind_m_s = 3.1;
  day.radiation_mj_m2 = 20.5;
  auto full = completed(day, kSite);
  EXPECT_FALSE(full->humidity_estimated || full->wind_estimated || full->radiation_estimated);
  EXPECT_DOUBLE_EQ(full->vapour_kpa, 0.6 * daily_saturation_kpa(11, 23));
  EXPECT_DOUBLE_EQ(full->wind_m_s, 3.1);
  EXPECT_DOUBLE_EQ(full->radiation_mj_m2, 20.5);
  day.dew_point_c = 9;  // says more than the mean humidity
  full = completed(day, kSite);
  EXPECT_DOUBLE_EQ(full->vapour_kpa, saturation_kpa(9));
}

TEST(Missing, TemperatureCannotBeStoodInFor) {
  Day day = day_with(make_date(2026, 6, 21), 11, 23);
  day.tmin_c.reset();
  EXPECT_FALSE(completed(day, kSite).has_value());
}

// Covers  a completed summer day gives a plausible 3-6 mm (FAO-56 table 2: temperate, warm 4-7 and moderate 2-4 mm).
TEST(Missing, GivesAPlausibleEvaporation) {
  const Date date = make_date(2026, 6, 21);
  const double mm = reference_evaporation(*completed(day_with(date, 11, 23), kSite), kSite, date).reference_mm;
  EXPECT_GT(mm, 3);
  EXPECT_LT(mm, 6);
}

}  // namespace
}  // namespace strikebed::climate
