#include "climate/degree_days.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "tests/climate/seattle.hpp"

namespace strikebed::climate {
namespace {

// Covers  the single sine against the sine itself, added up in 100,000 steps.  Tol  1e-4: the step's own error.
TEST(DegreeDays, SingleSineIsTheAreaUnderTheSine) {
  for (const double base : {-3.0, 2.0, 5.5, 9.0, 11.9, 15.0}) {
    double sum = 0;
    constexpr int kSteps = 100000;
    for (int i = 0; i < kSteps; ++i) {
      sum += std::max(0.0, 7 + 5 * std::sin(2 * std::numbers::pi * (i + 0.5) / kSteps) - base) / kSteps;
    }
    EXPECT_NEAR(degree_days_single_sine(2, 12, base), sum, 1e-4) << base;
  }
}

// Ref  the formula's publisher (Irish meteorological service), four days at base 5.5.
TEST(DegreeDays, FourCases) {
  EXPECT_DOUBLE_EQ(degree_days_four_case(8, 14, 5.5), 5.5);
  EXPECT_DOUBLE_EQ(degree_days_four_case(-2, 4, 5.5), 0);
  EXPECT_DOUBLE_EQ(degree_days_four_case(2, 12, 5.5), 2.375);
  EXPECT_DOUBLE_EQ(degree_days_four_case(-1, 8, 5.5), 0.625);
}

// Covers  all methods are none below the base, the plain mean above it, never fall with warmth, and agree on still
// days.
TEST(DegreeDays, AgreeAwayFromTheBaseAndNeverFallWithWarmth) {
  using Method = double (*)(double, double, double);
  for (const Method method : {Method{degree_days_average}, Method{degree_days_four_case},
                              Method{degree_days_single_sine}, Method{degree_days_triangle}}) {
    EXPECT_EQ(method(-5, 5, 5), 0);
    EXPECT_DOUBLE_EQ(method(6, 16, 5), 6);
    EXPECT_DOUBLE_EQ(method(8, 8, 5), 3);
    EXPECT_EQ(method(5, 5, 5), 0);
    double last = 0;
    for (double warmer = 0; warmer < 20; warmer += 0.25) {
      const double now = method(-8 + warmer, 4 + warmer, 5);
      EXPECT_GE(now, last - 1e-12);
      last = now;
    }
  }
}

TEST(DegreeDays, DoubleSineLooksAtTheNextMorning) {
  EXPECT_DOUBLE_EQ(degree_days_double_sine(2, 12, 2, 5), degree_days_single_sine(2, 12, 5));
  EXPECT_GT(degree_days_double_sine(2, 12, 6, 5), degree_days_single_sine(2, 12, 5));
}

TEST(DegreeDays, CutOffTakesAwayWhatIsAboveIt) {
  EXPECT_DOUBLE_EQ(degree_days_sine_with_cutoff(10, 20, 5, 25), 10);
  EXPECT_DOUBLE_EQ(degree_days_sine_with_cutoff(26, 30, 5, 25), 20);
  EXPECT_LT(degree_days_sine_with_cutoff(10, 30, 5, 25), 15);
}

TEST(DegreeDays, HoursAreAveraged) {
  const std::vector<double> hours = {0, 10, 20, 30};
  EXPECT_DOUBLE_EQ(degree_days_hourly(hours, 10), 7.5);
  EXPECT_EQ(degree_days_hourly({}, 10), 0);
}

// Ref  Seattle 2012-2015, base 5 and 10, computed with python and again in Octave (tests/reference).  Tol  their last
// digit.
TEST(DegreeDays, OfTheSeattleRecord) {
  double average = 0;
  double sine5 = 0;
  double sine10 = 0;
  double double_sine = 0;
  const auto& days = seattle().days;
  for (std::size_t i = 0; i < days.size(); ++i) {
    average += degree_days_average(*days[i].tmin_c, *days[i].tmax_c, 5);
    sine5 += degree_days_single_sine(*days[i].tmin_c, *days[i].tmax_c, 5);
    sine10 += degree_days_single_sine(*days[i].tmin_c, *days[i].tmax_c, 10);
    const double next = *days[std::min(i + 1, days.size() - 1)].tmin_c;
    double_sine += degree_days_double_sine(*days[i].tmin_c, *days[i].tmax_c, next, 5);
  }
  EXPECT_NEAR(average, 11076.15, 0.005);
  EXPECT_NEAR(sine5, 11235.943, 0.001);
  EXPECT_NEAR(sine10, 5813.811, 0.001);
  EXPECT_NEAR(double_sine, 11233.858,
              0.5);  // the last day's next minimum is not on record; the reference has its own rule
}

}  // namespace
}  // namespace strikebed::climate
