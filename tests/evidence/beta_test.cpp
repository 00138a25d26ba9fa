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
                                  {0.0001, 0.001},
                                  {0.05, 0.9999},
                                  {0.7, 0.9999},
                                  {0.0001, 0.95},
                                  {kLeastRate, kMostRate},
                                  {kLeastRate, kLeastRate + kNarrowestRange},
                                  {0.5, 0.5 + kNarrowestRange},
                                  {kMostRate - kNarrowestRange, kMostRate}}) {
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

// Covers  all of the ranges that are allowed, evenly on the logit scale from the narrowest to the widest, each met as
//         promised; and three points with the middle one anywhere between them, near an end too: the fit keeps its way
//         (its points are nearer to the three than a Beta that is all at one rate could be).
TEST(Beta, EveryAllowedRangeHasItsBeta) {
  const double least = std::log(kLeastRate / (1 - kLeastRate));
  const auto share = [](double logit) { return 1 / (1 + std::exp(-logit)); };
  for (int i = 0; i <= 24; ++i) {
    for (const double width : {1e-4, 1e-2, 0.3, 1.0, 3.0, 6.0, 10.0, 14.0, 18.0}) {
      const double from = least - 2 * least * i / 24;
      const double low = std::max(share(from), kLeastRate);
      const double high = std::min(share(from + width), kMostRate);
      if (wrong_range(low, high)) continue;
      const auto range = beta_from_range(low, high);
      ASSERT_TRUE(range.ok());
      EXPECT_NEAR(range->quantile(0.05), low, 1e-6) << low << ", " << high;
      EXPECT_NEAR(range->quantile(0.95), high, 1e-6) << low << ", " << high;
      for (const double part : {1e-6, 0.01, 0.3, 0.5, 0.7, 0.99, 1 - 1e-6}) {
        const double about = low + part * (high - low);
        const auto three = beta_from_three(low, about, high);
        ASSERT_TRUE(three.ok());
        const double misfit =
            std::hypot(three->quantile(0.05) - low, three->quantile(0.5) - about, three->quantile(0.95) - high);
        EXPECT_LT(misfit, 0.5 * (high - low)) << low << ", " << about << ", " << high;
      }
    }
  }
}

TEST(Beta, RangesBeyondTheLimitsAndKnownRatesAreErrors) {
  EXPECT_FALSE(beta_of({Known{0.5}, 0.0}).ok());
  const double none = std::nan("");
  for (const auto& [low, high] : {std::pair{1e-9, 0.5},
                                  {0.3, 0.9999999999999},
                                  {0.0, 1.0},
                                  {0.5, 0.500001},
                                  {0.5, 0.5},
                                  {0.6, 0.5},
                                  {none, 0.5},
                                  {0.5, none}}) {
    EXPECT_FALSE(beta_from_range(low, high).ok()) << low << ", " << high;
    EXPECT_FALSE(beta_from_three(low, (low + high) / 2, high).ok()) << low << ", " << high;
  }
  EXPECT_EQ(
      beta_from_range(0.3, 0.99999).error().message(),
      "no belief is made of a range from 0.3 to 0.99999; allowed: low and high from 0.0001 to 0.9999, low at least "
      "0.00001 below high");
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
