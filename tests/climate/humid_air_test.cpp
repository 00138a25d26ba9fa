#include "climate/humid_air.hpp"

#include <gtest/gtest.h>

namespace strikebed::climate {
namespace {

// Ref  FAO-56 table 2.3 (from memory), kPa to three digits.  Tol  0.003: the printed table uses a rounded constant.
TEST(HumidAir, SaturationMatchesTheTable) {
  EXPECT_NEAR(saturation_kpa(1), 0.657, 0.003);
  EXPECT_NEAR(saturation_kpa(20), 2.338, 0.003);
  EXPECT_NEAR(saturation_kpa(40), 7.376, 0.003);
}

// Covers  the slope is the derivative.  Tol  a central difference over 0.02 K is good to 1e-6.
TEST(HumidAir, SlopeIsTheDerivative) {
  for (double t = -20; t <= 50; t += 5) {
    const double difference = (saturation_kpa(t + 0.01) - saturation_kpa(t - 0.01)) / 0.02;
    EXPECT_NEAR(saturation_slope_kpa_k(t), difference, 2e-4 * difference) << t;  // 4098 is 17.27 x 237.3 rounded
  }
}

TEST(HumidAir, DewPointUndoesSaturation) {
  for (double t = -20; t <= 50; t += 2.5) EXPECT_NEAR(dew_point_c(saturation_kpa(t)), t, 1e-9);
}

TEST(HumidAir, HumidityForADeficitGivesThatDeficit) {
  EXPECT_NEAR(vapour_deficit_kpa(24, humidity_for_deficit_pct(24, 0.6)), 0.6, 1e-12);
  EXPECT_LT(humidity_for_deficit_pct(5, 2), 0);  // cold air cannot be that dry
}

// Covers  wet bulb between dew point and air, equal to both in saturated air, and undone by the psychrometer equation.
TEST(HumidAir, WetBulbLiesBetweenDewPointAndAir) {
  for (double t = 8; t <= 48; t += 4) {
    double last = -99;
    for (double humidity = 40; humidity <= 100; humidity += 10) {
      const auto wet = wet_bulb_c(t, humidity, 95);
      ASSERT_TRUE(wet.has_value()) << t << " " << humidity;
      EXPECT_LE(*wet, t + 1e-9);
      EXPECT_GE(*wet, dew_point_c(vapour_kpa(t, humidity)) - 1e-9);
      EXPECT_GT(*wet, last);
      last = *wet;
      EXPECT_NEAR(vapour_from_wet_bulb_kpa(t, *wet, 95), vapour_kpa(t, humidity), 1e-9);
    }
    EXPECT_NEAR(*wet_bulb_c(t, 100, 95), t, 1e-9);
  }
}

// Ref  ASHRAE adiabatic wet bulb by psychrolib at 20, 30, 25, 24 °C.  Tol  0.15 K: a ventilated thermometer reads
// 0.02 to
//      0.13 K above it.
TEST(HumidAir, WetBulbIsNearTheAdiabaticOne) {
  EXPECT_NEAR(*wet_bulb_c(20, 50, 101.325), 13.78337, 0.15);
  EXPECT_NEAR(*wet_bulb_c(30, 50, 101.325), 22.00524, 0.15);
  EXPECT_NEAR(*wet_bulb_c(25, 70, 101.325), 20.96558, 0.15);
  EXPECT_NEAR(*wet_bulb_c(24, 90, 101.325), 22.75071, 0.15);
}

TEST(HumidAir, HasNoWetBulbBelowFreezing) {
  for (const double pressure : {70.0, 101.3}) {
    ASSERT_TRUE(wet_bulb_c(0, 100, pressure).has_value());  // saturated air at its freezing point
    EXPECT_NEAR(*wet_bulb_c(0, 100, pressure), 0, 1e-9);
  }
  EXPECT_FALSE(wet_bulb_c(-0.001, 100).has_value());
  EXPECT_FALSE(wet_bulb_c(-3, 80).has_value());
  EXPECT_FALSE(wet_bulb_c(2, 20).has_value());
}

TEST(HumidAir, CondensesBelowTheDewPointOnly) {  // dew point 13.37 °C
  EXPECT_FALSE(condenses(14, 15, 90));
  EXPECT_TRUE(condenses(13, 15, 90));
  EXPECT_LT(leaf_vapour_deficit_kpa(12, 15, 90), 0);
}

TEST(HumidAir, PressureFallsWithHeight) {
  EXPECT_NEAR(air_pressure_kpa(0), 101.3, 1e-9);
  EXPECT_NEAR(air_pressure_kpa(1800), 81.8, 0.06);  // FAO-56 example 2
  EXPECT_GT(air_pressure_kpa(100), air_pressure_kpa(200));
}

}  // namespace
}  // namespace strikebed::climate
