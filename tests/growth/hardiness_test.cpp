// Short days, standing still and frost, by hand.
#include "growth/hardiness.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::growth {
namespace {

TEST(Hardiness, LightSlowsBetweenTwoDayLengths) {
  EXPECT_EQ(light_response(8, 9, 10.5), 0);
  EXPECT_EQ(light_response(9, 9, 10.5), 0);
  EXPECT_DOUBLE_EQ(light_response(9.75, 9, 10.5), 0.5);
  EXPECT_EQ(light_response(10.5, 9, 10.5), 1);
  EXPECT_EQ(light_response(16, 9, 10.5), 1);
  EXPECT_EQ(light_response(11.9, 12, 12), 0) << "no room between the two: a step";
  EXPECT_EQ(light_response(12, 12, 12), 1);
  EXPECT_EQ(light_response(11, 12, 10), 1) << "the length from which it grows in full goes first";
}

TEST(Hardiness, ADayStandsStillAsFarAsItBringsNoWarmth) {
  EXPECT_EQ(idle_part(0), 1);
  EXPECT_EQ(idle_part(0.25F), 0.75F);
  EXPECT_EQ(idle_part(1), 0);
  EXPECT_EQ(idle_part(9), 0);
}

TEST(Hardiness, SevenDaysOfTheHazardAreTheWeeklyLoss) {
  EXPECT_NEAR(std::exp(-7 * idle_hazard(0.05)), 0.95, 1e-15);
  EXPECT_EQ(idle_hazard(0), 0);
}

// Half live through a night at their own temperature; 0.7 degrees milder the hazard is half of it: 1 / sqrt 2 live.
// Berntsen's seedlings, that half survive at -8: at -5 degC 96 % do, little injury; at -9 one in seven, heavy losses.
TEST(Hardiness, HalfLiveThroughTheirTemperature) {
  const auto alive = [](double half_c, double night_c) {
    return std::exp(-std::exp(log_frost_scale(half_c)) * frost_dose(night_c));
  };
  EXPECT_NEAR(alive(-8, -8), 0.5, 1e-12);
  EXPECT_NEAR(alive(-8, -7.3), std::sqrt(0.5), 1e-12);
  EXPECT_NEAR(alive(-8, -8.7), 0.25, 1e-12);
  EXPECT_NEAR(alive(-8, -5), 0.965, 5e-4);
  EXPECT_NEAR(alive(-8, -9), 0.155, 5e-4);
  EXPECT_EQ(alive(-4, 0), 1) << "no frost, no harm";
  EXPECT_NEAR(alive(-4, -2), 0.909, 5e-4);
}

}  // namespace
}  // namespace strikebed::growth
