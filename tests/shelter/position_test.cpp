// Air and medium at a growing position: each rule of docs/methods/position.md.
#include "shelter/position.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::shelter {
namespace {

TEST(Position, OutdoorAirWithItsOffset) {
  EXPECT_EQ(air_inside({}, 7.5F), 7.5F);
  EXPECT_EQ(air_inside({.offset_c = 3, .at_least_c = {}, .fixed_c = {}}, 7.5F), 10.5F);
  EXPECT_EQ(air_inside({.offset_c = -2, .at_least_c = {}, .fixed_c = {}}, -1), -3);
}

TEST(Position, HeatingOnlyWarms) {
  const Position heated{.offset_c = 2, .at_least_c = 18, .fixed_c = {}};
  EXPECT_EQ(air_inside(heated, 4), 18);
  EXPECT_EQ(air_inside(heated, 15.9F), 18);
  EXPECT_EQ(air_inside(heated, 20), 22);
}

TEST(Position, FixedWinsOverAll) {
  const Position fixed{.offset_c = 5, .at_least_c = 18, .fixed_c = 12};
  for (const float outdoor : {-30.0F, 12.0F, 40.0F}) EXPECT_EQ(air_inside(fixed, outdoor), 12);
}

// After a step in the air of 10 degC the medium has gone 63 % of the way in five hours; and a day of sine air with an
// amplitude of 8 degC swings the medium with 8 / sqrt(1 + (2 pi 5 / 24)^2) = 4.86 degC. 4 %: whole hours.
TEST(Position, MediumLagsByFiveHours) {
  float medium = 10;
  for (int hour = 0; hour < 5; ++hour) medium += kMediumHourlyApproach * (20 - medium);
  EXPECT_NEAR(medium, 20 - 10 * std::exp(-1.0), 1e-4);

  double highest = 0;
  medium = 0;
  for (int hour = 0; hour < 240; ++hour) {
    const double air = 8 * std::sin(2 * 3.14159265358979 * hour / 24);
    medium += kMediumHourlyApproach * (static_cast<float>(air) - medium);
    if (hour > 120) highest = std::max(highest, static_cast<double>(medium));
  }
  EXPECT_NEAR(highest, 4.86, 0.04 * 4.86);
}

}  // namespace
}  // namespace strikebed::shelter
