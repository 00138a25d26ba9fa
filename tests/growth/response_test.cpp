// How fast growth goes at a temperature: anchors of the two curves, and what must hold between them.
#include "growth/response.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::growth {
namespace {

constexpr Cardinal kGermination{6, 23, 36};
constexpr Cardinal kRooting{8, 24, 34};

TEST(Response, NothingAtAndBeyondBaseAndCeilingAllAtTheOptimum) {
  for (const auto response : {triangular_response, wang_engel_response}) {
    for (const Cardinal& cardinal : {kGermination, kRooting}) {
      for (const double cold : {-40.0, cardinal.base_c - 0.01, cardinal.base_c}) EXPECT_EQ(response(cold, cardinal), 0);
      for (const double hot : {cardinal.ceiling_c, cardinal.ceiling_c + 0.01, 60.0}) {
        EXPECT_EQ(response(hot, cardinal), 0);
      }
      EXPECT_NEAR(response(cardinal.optimum_c, cardinal), 1, 1e-12);
    }
  }
}

TEST(Response, RisesToTheOptimumAndFallsBeyond) {
  for (const auto response : {triangular_response, wang_engel_response}) {
    for (double t = kRooting.base_c; t < kRooting.ceiling_c - 0.1; t += 0.1) {
      const double step = response(t + 0.1, kRooting) - response(t, kRooting);
      if (t + 0.1 <= kRooting.optimum_c) {
        EXPECT_GT(step, 0) << t;
      } else if (t >= kRooting.optimum_c) {
        EXPECT_LT(step, 0) << t;
      }
    }
  }
}

// Straight limbs: half way along each is a half, by definition.
TEST(Response, TriangularLimbsAreStraight) {
  EXPECT_NEAR(triangular_response((6 + 23) / 2.0, kGermination), 0.5, 1e-12);
  EXPECT_NEAR(triangular_response((23 + 36) / 2.0, kGermination), 0.5, 1e-12);
}

// With the optimum in the middle alpha is 1 and the curve a parabola, 1 - ((t - optimum) / (optimum - base))^2.
TEST(Response, WangEngelIsAParabolaWhenTheOptimumIsInTheMiddle) {
  const Cardinal even{10, 22, 34};
  for (double t = 10.5; t < 34; t += 0.5) {
    const double off = (t - 22) / 12;
    EXPECT_NEAR(wang_engel_response(t, even), 1 - off * off, 1e-12) << t;
  }
}

// Smooth at its optimum: no corner, unlike the straight limbs. Over 0.01 degC the slope is flat to within its
// curvature.
TEST(Response, WangEngelHasNoCornerAtItsOptimum) {
  const double left = 1 - wang_engel_response(kRooting.optimum_c - 0.01, kRooting);
  const double right = 1 - wang_engel_response(kRooting.optimum_c + 0.01, kRooting);
  EXPECT_LT(left, 1e-5);
  EXPECT_LT(right, 1e-5);
}

// Rooting above base 8 with optimum 24 and ceiling 34 at 16 degC: alpha = ln 2 / ln(26 / 16) = 1.42767,
// (8 / 16)^alpha = 0.37173, x (2 - x) = 0.60528. By hand.
TEST(Response, WangEngelWorkedExample) { EXPECT_NEAR(wang_engel_response(16, kRooting), 0.60528, 1e-5); }

// On the lower limb thermal time is the plain degree-day: 15 degC above a base of 6 for a day gives 9 degC d.
TEST(Response, ThermalTimeOnTheLowerLimbIsTheDegreeDay) {
  EXPECT_NEAR(thermal_time_per_day(triangular_response(15, kGermination), kGermination), 9, 1e-12);
  EXPECT_NEAR(thermal_time_per_day(1, kGermination), 17, 1e-12);
}

}  // namespace
}  // namespace strikebed::growth
