// Counting with a believed rate: sums, orders and limits. Published numbers:
// tests/reference/beta_binomial_planning.json.
#include "evidence/beta_binomial.hpp"

#include <gtest/gtest.h>

namespace strikebed::evidence {
namespace {

// The tails of all counts add up to the mean (for counts of 0 or more, E[X] = sum over K >= 1 of P(X >= K)).
TEST(BetaBinomial, TailsAddUpToTheMean) {
  for (const auto& [alpha, beta] : {std::pair{0.5, 0.5}, {2.4, 14.3}, {42.0, 10.0}, {500.0, 3.0}}) {
    const int number = 150;
    double sum = 0;
    for (int wanted = 1; wanted <= number; ++wanted) sum += beta_binomial_at_least(wanted, number, alpha, beta);
    EXPECT_NEAR(sum, beta_binomial_moments(number, alpha, beta).mean, 1e-9 * number);
  }
}

TEST(BetaBinomial, NothingWantedIsSureAndMoreThanAllImpossible) {
  EXPECT_EQ(beta_binomial_at_least(0, 10, 2, 3), 1);
  EXPECT_EQ(beta_binomial_at_least(-1, 10, 2, 3), 1);
  EXPECT_EQ(beta_binomial_at_least(11, 10, 2, 3), 0);
  EXPECT_EQ(beta_binomial_at_least(1, 0, 2, 3), 0);
}

TEST(BetaBinomial, MoreSeedsNeverLowerTheChance) {
  double before = 0;
  for (int number = 30; number < 400; ++number) {
    const double now = beta_binomial_at_least(30, number, 3.9, 2.1);
    EXPECT_GE(now, before);
    before = now;
  }
}

// Closed form for a uniform belief, at numbers where a direct product of factorials would overflow; 1e-10 as promised.
TEST(BetaBinomial, LargeNumbersStayExact) {
  EXPECT_NEAR(beta_binomial_at_least(25'001, 100'000, 1, 1), 75'000.0 / 100'001.0, 1e-10);
  EXPECT_NEAR(beta_binomial_at_least(100'000, 100'000, 1, 1) * 100'001.0, 1, 1e-9);
}

// Covers  the corners: rates believed very firmly, and large numbers with beliefs of every shape.
// Ref     mpmath 1.2 in 60 digits: first term by log-gamma, the others by their ratios.
// Tol     1e-10 of the chance, as the header says.
TEST(BetaBinomial, IsAsExactAsSaidInTheCorners) {
  struct Case {
    int wanted, number;
    double alpha, beta, chance;
  };
  for (const Case& c :
       {Case{40, 50, 1e6, 1e6, 0.0000119333119158323384}, Case{40, 50, 1e12, 1e12, 0.0000119306658410236116},
        Case{50'200, 100'000, 1e6, 1e6, 0.109097617582134255}, Case{50'200, 100'000, 1e12, 1e12, 0.103519491559160235},
        Case{99'000, 100'000, 0.5, 0.5, 0.0637923908956265479}, Case{99'990, 100'000, 8, 2.5, 1.0078327117517579e-8}}) {
    EXPECT_NEAR(beta_binomial_at_least(c.wanted, c.number, c.alpha, c.beta) / c.chance, 1, 1e-10)
        << c.wanted << " of " << c.number << ", " << c.alpha << ", " << c.beta;
  }
}

TEST(BetaBinomial, SmallestNumberIsTheFirstThatIsEnough) {
  for (const int wanted : {1, 7, 60}) {
    for (const double assurance : {0.5, 0.8, 0.95}) {
      const auto number = beta_binomial_smallest_number(wanted, assurance, 8, 2.5);
      ASSERT_TRUE(number.has_value());
      EXPECT_GE(beta_binomial_at_least(wanted, *number, 8, 2.5), assurance);
      EXPECT_LT(beta_binomial_at_least(wanted, *number - 1, 8, 2.5), assurance);
    }
  }
}

TEST(BetaBinomial, SaysWhenNoNumberIsEnough) {
  EXPECT_FALSE(beta_binomial_smallest_number(10, 0.99, 0.5, 0.5, 2000).has_value());
  EXPECT_FALSE(beta_binomial_smallest_number(10, 0.5, 5, 1, 9).has_value());
  EXPECT_EQ(beta_binomial_smallest_number(0, 0.9, 1, 1), 0);
}

}  // namespace
}  // namespace strikebed::evidence
