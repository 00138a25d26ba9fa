// The small formulas of a seedling's stages: anchors and order.
#include "growth/stages.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::growth {
namespace {

TEST(Stages, ChillingFallsFromTheUnchilledFactorToOneAndStays) {
  EXPECT_NEAR(chilling_factor(0, 45, 1.5), 1.5, 1e-12);
  EXPECT_EQ(chilling_factor(45, 45, 1.5), 1);
  EXPECT_EQ(chilling_factor(200, 45, 1.5), 1);
  EXPECT_EQ(chilling_factor(0, 0, 1.5), 1);  // a species that needs none
  double before = 2;
  for (int days = 0; days <= 60; ++days) {
    const double now = chilling_factor(days, 45, 1.5);
    EXPECT_LE(now, before);
    EXPECT_GE(now, 1);
    before = now;
  }
}

// Ten of 45 days: 1 + 0.5 (e^(-2/3) - e^-3) / (1 - e^-3) = 1.2439, by hand. The first days do most.
TEST(Stages, ChillingWorkedExample) {
  EXPECT_NEAR(chilling_factor(10, 45, 1.5), 1.24397, 1e-4);
  EXPECT_GT(1.5 - chilling_factor(15, 45, 1.5), 2 * (chilling_factor(15, 45, 1.5) - chilling_factor(30, 45, 1.5)));
}

TEST(Stages, TakeIsBestInTheMiddleOfTheWindowAndSymmetric) {
  const double edge = std::log(0.6);
  EXPECT_EQ(take_log_odds(0.5, edge), 0);
  EXPECT_NEAR(take_log_odds(0.0, edge), edge, 1e-12);
  EXPECT_NEAR(take_log_odds(1.0, edge), edge, 1e-12);
  for (double off = 0.05; off < 1; off += 0.05) {
    EXPECT_NEAR(take_log_odds(0.5 - off, edge), take_log_odds(0.5 + off, edge), 1e-12);
    EXPECT_LT(take_log_odds(0.5 + off, edge), take_log_odds(0.5 + off - 0.05, edge));
  }
  EXPECT_EQ(take_log_odds(0.1, 0.0), 0);  // a species that does not mind
}

// A window from 420 to 1150 degC d, struck at 600: position 180 / 730 = 0.2466, log odds ln 0.6 (2 x 0.2466 - 1)^2 =
// -0.1312; a take of 0.65 in the middle becomes 0.6196. By hand.
TEST(Stages, TakeWorkedExample) {
  const double log_odds = take_log_odds((600.0 - 420) / (1150 - 420), std::log(0.6));
  EXPECT_NEAR(log_odds, -0.1312, 5e-5);
  EXPECT_NEAR(1 / (1 + std::exp(-(std::log(0.65 / 0.35) + log_odds))), 0.6196, 1e-4);
}

TEST(Stages, LossesAreHalfAtTheHalfAgeAndAllInTheEnd) {
  EXPECT_EQ(losses_by_age(0, 14), 0);
  EXPECT_NEAR(losses_by_age(14, 14), 0.5, 1e-12);
  EXPECT_NEAR(losses_by_age(28, 14), 0.75, 1e-12);
  EXPECT_NEAR(losses_by_age(14 * 40, 14), 1, 1e-9);
}

}  // namespace
}  // namespace strikebed::growth
