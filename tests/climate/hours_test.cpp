#include "climate/hours.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

double at(const HourlyShape& shape, std::size_t h, const DayEnds& ends) {
  return static_cast<double>(shape.tmin[h]) * ends.tmin + static_cast<double>(shape.tmax[h]) * ends.tmax +
         static_cast<double>(shape.next_tmin[h]) * ends.next_tmin +
         static_cast<double>(shape.last_tmax[h]) * ends.last_tmax;
}

// Covers  the sine by day and the exponential fall by night.
// Ref     a separate script of the stated equations (tests/reference, sun.temp.sine_exponential).
// Tol     0.001 °C: the reference is printed to six digits.
TEST(Hours, FollowTheSineAndTheExponential) {
  const DayEnds ends{.tmin = 10, .tmax = 24, .next_tmin = 11, .last_tmax = 24};
  const double hours[] = {5, 8, 12, 14, 18, 19, 22, 24};
  const double expected[] = {10.421888, 17.460455, 23.376276, 23.978861, 20.107849, 18.241037, 14.74254, 13.410332};
  for (std::size_t i = 0; i < 8; ++i) EXPECT_NEAR(parton_logan_c(ends, 14, hours[i]), expected[i], 0.001) << hours[i];
}

// Covers  the weights say the same as the direct form, at every hour, latitude and season, polar day and night
// included. Tol     1e-4 °C: the weights are single precision (24 bits of up to 40 °C).
TEST(Hours, WeightsAgreeWithTheDirectForm) {
  const DayEnds ends{.tmin = -4.2, .tmax = 13.7, .next_tmin = 1.1, .last_tmax = 16.4};
  for (const double latitude : {-78.0, -42.9, 0.0, 47.6, 66.5, 89.9}) {
    for (int month = 1; month <= 12; ++month) {
      const Date date = make_date(2026, month, 21);
      const HourlyShape shape = hourly_shape(latitude, date);
      const double length = day_length_h(latitude, day_of_year(date));
      for (std::size_t h = 0; h < 24; ++h) {
        EXPECT_NEAR(at(shape, h, ends), parton_logan_c(ends, length, static_cast<double>(h) + 0.5), 1e-4);
        EXPECT_NEAR(shape.tmin[h] + shape.tmax[h] + shape.next_tmin[h] + shape.last_tmax[h], 1, 1e-6);
      }
    }
  }
}

// Covers  no hour leaves the range of the temperatures it joins, and the hours reach nearly both ends of it.
TEST(Hours, StayWithinTheRangeAndNearlyReachIt) {
  const DayEnds ends{.tmin = 5, .tmax = 20, .next_tmin = 5, .last_tmax = 20};
  for (const double latitude : {-69.0, -33.0, 0.0, 51.0, 69.6}) {
    for (int month = 1; month <= 12; ++month) {
      const HourlyShape shape = hourly_shape(latitude, make_date(2026, month, 15));
      double low = 99;
      double high = -99;
      for (std::size_t h = 0; h < 24; ++h) {
        low = std::min(low, at(shape, h, ends));
        high = std::max(high, at(shape, h, ends));
      }
      EXPECT_GE(low, 5 - 1e-5);
      EXPECT_LE(high, 20 + 1e-5);
      EXPECT_LT(low, 7.5) << latitude << " month " << month;
      EXPECT_GT(high, 19.0) << latitude << " month " << month;
    }
  }
}

// Covers  the warmest hour is the one that ends at 14 h (maximum at noon + 1.86 - 0.17 h), polar day and night
// included.
TEST(Hours, AreWarmestInTheEarlyAfternoon) {
  const DayEnds ends{.tmin = 5, .tmax = 20, .next_tmin = 5, .last_tmax = 20};
  for (const double latitude : {-80.0, -42.9, 0.0, 47.6, 80.0}) {
    for (int month = 1; month <= 12; ++month) {
      const HourlyShape shape = hourly_shape(latitude, make_date(2026, month, 21));
      for (std::size_t h = 0; h < 24; ++h) EXPECT_LE(at(shape, h, ends), at(shape, 13, ends)) << latitude << " " << h;
    }
  }
}

// Covers  evenings cool towards the next minimum only, hours before dawn come from the last maximum only.
TEST(Hours, JoinTheRightDays) {
  const HourlyShape shape = hourly_shape(47.6, make_date(2026, 4, 1));
  for (std::size_t h = 0; h < 24; ++h) {
    EXPECT_EQ(shape.next_tmin[h] > 0, h >= 18) << h;  // sunset 18.4 h
    EXPECT_EQ(shape.last_tmax[h] > 0, h < 5) << h;    // dawn 5.4 h
  }
}

// Covers  the southern day in December is the northern day in June, within the calendar's asymmetry.
TEST(Hours, MirrorBetweenTheHemispheres) {
  const HourlyShape north = hourly_shape(40, make_date(2026, 6, 21));
  const HourlyShape south = hourly_shape(-40, make_date(2026, 12, 21));
  for (std::size_t h = 0; h < 24; ++h) EXPECT_NEAR(north.tmax[h], south.tmax[h], 0.01) << h;
}

}  // namespace
}  // namespace strikebed::climate
