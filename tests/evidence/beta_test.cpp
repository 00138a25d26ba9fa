// Beliefs turned into Betas: the points that were asked for are met, and what cannot be is refused.
#include "evidence/beta.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::evidence {
namespace {

TEST(Beta, FromATestIsTheUniformBeliefUpdated) {
  const Beta beta = beta_from_test(41, 50);
  EXPECT_EQ(beta.a, 42);
  EXPECT_EQ(beta.b, 10);
  EXPECT_NEAR(beta.mean(), 42.0 / 52, 1e-12);
}

// Outer points within 1e-6 as promised, from tight to very wide and near both ends.
TEST(Beta, FromARangeMeetsItsPoints) {
  for (const auto& [low, high] : {std::pair{0.3, 0.9},
                                  {0.05, 0.95},
                                  {0.45, 0.55},
                                  {0.001, 0.2},
                                  {0.9, 0.999},
                                  {0.01, 0.99},
                                  {0.75, 0.97},
                                  {0.0001, 0.001}}) {
    const auto beta = beta_from_range(low, high);
    ASSERT_TRUE(beta.ok()) << low << ", " << high;
    EXPECT_NEAR(beta->quantile(0.05), low, 1e-6) << low << ", " << high;
    EXPECT_NEAR(beta->quantile(0.95), high, 1e-6) << low << ", " << high;
  }
}

// The worked example of docs/methods/beliefs.md, computed with R 4.2.2 (qbeta, and optim for the three points).
TEST(Beta, WorkedExample) {
  const Beta test = beta_from_test(41, 50);
  EXPECT_NEAR(test.quantile(0.05), 0.7123, 5e-5);
  EXPECT_NEAR(test.quantile(0.5), 0.8117, 5e-5);
  EXPECT_NEAR(test.quantile(0.95), 0.8896, 5e-5);
  const auto three = beta_from_three(0.3, 0.65, 0.9);
  ASSERT_TRUE(three.ok());
  EXPECT_NEAR(three->a, 3.706, 1e-3);
  EXPECT_NEAR(three->b, 2.175, 1e-3);
  EXPECT_NEAR(three->quantile(0.05), 0.3022, 5e-5);
  EXPECT_NEAR(three->quantile(0.5), 0.6457, 5e-5);
  EXPECT_NEAR(three->quantile(0.95), 0.9043, 5e-5);
}

// A range read off a Beta gives that Beta back.
TEST(Beta, FromItsOwnPointsComesBack) {
  for (const Beta& original : {Beta{8, 3}, Beta{0.6, 2}, Beta{120, 40}, Beta{1, 1}}) {
    const double low = original.quantile(0.05);
    const double high = original.quantile(0.95);
    const auto range = beta_from_range(low, high);
    ASSERT_TRUE(range.ok());
    EXPECT_NEAR(range->a, original.a, 1e-3 * original.a);
    EXPECT_NEAR(range->b, original.b, 1e-3 * original.b);
    const auto three = beta_from_three(low, original.quantile(0.5), high);
    ASSERT_TRUE(three.ok());
    EXPECT_NEAR(three->a, original.a, 1e-3 * original.a);
    EXPECT_NEAR(three->b, original.b, 1e-3 * original.b);
  }
}

// Three points that no Beta has: none that is a little different in a or b lies nearer to them.
TEST(Beta, FromThreePointsIsTheNearest) {
  const double low = 0.30, about = 0.65, high = 0.90;
  const auto misfit = [&](const Beta& beta) {
    return std::pow(beta.quantile(0.05) - low, 2) + std::pow(beta.quantile(0.5) - about, 2) +
           std::pow(beta.quantile(0.95) - high, 2);
  };
  const auto fitted = beta_from_three(low, about, high);
  ASSERT_TRUE(fitted.ok());
  const double best = misfit(*fitted);
  EXPECT_LT(std::sqrt(best), 0.03);
  for (const double a : {0.98, 0.999, 1.001, 1.02}) {
    for (const double b : {0.98, 0.999, 1.001, 1.02}) EXPECT_GE(misfit({fitted->a * a, fitted->b * b}), best);
  }
}

// Whatever cannot be met is refused, not approximated.
TEST(Beta, ImpossibleRangesAndKnownRatesAreErrors) {
  EXPECT_FALSE(beta_of({Known{0.5}, 0.0}).ok());
  const auto extreme = beta_from_range(1e-9, 1 - 1e-9);
  if (extreme.ok()) {
    EXPECT_NEAR(extreme->quantile(0.05), 1e-9, 1e-4);
    EXPECT_NEAR(extreme->quantile(0.95), 1 - 1e-9, 1e-4);
  }
}

TEST(Beta, QuantileAndShareBelowAreInverse) {
  for (const Beta& beta : {Beta{8, 3}, Beta{0.6, 2}, Beta{500, 3}}) {
    for (const double p : {1e-6, 0.01, 0.3, 0.5, 0.9, 0.9999}) EXPECT_NEAR(beta.share_below(beta.quantile(p)), p, 1e-9);
    EXPECT_EQ(beta.share_below(-0.1), 0);
    EXPECT_EQ(beta.share_below(1.1), 1);
  }
}

}  // namespace
}  // namespace strikebed::evidence
