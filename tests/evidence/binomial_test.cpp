// Counts of successes: exact where tries are alike, near where they are not, and drawn counts with the right spread.
#include "evidence/binomial.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

#include "base/random.hpp"

namespace strikebed::evidence {
namespace {

/// The distribution of the number of successes among tries with these chances, by adding one try after another.
std::vector<double> poisson_binomial(const std::vector<double>& chances) {
  std::vector<double> share{1};
  for (const double chance : chances) {
    share.push_back(0);
    for (std::size_t k = share.size() - 1; k > 0; --k) share[k] = share[k] * (1 - chance) + share[k - 1] * chance;
    share[0] *= 1 - chance;
  }
  return share;
}

double tail(const std::vector<double>& share, int wanted) {
  double sum = 0;
  for (std::size_t k = static_cast<std::size_t>(wanted); k < share.size(); ++k) sum += share[k];
  return sum;
}

// Tries that are alike: the binomial itself; 1e-9 as mean and variance only give the number of tries up to rounding.
TEST(Binomial, ExactWhenTriesAreAlike) {
  for (const int tries : {1, 7, 60, 900}) {
    for (const double chance : {0.02, 0.5, 0.93}) {
      const auto share = poisson_binomial(std::vector<double>(static_cast<std::size_t>(tries), chance));
      for (int wanted = 1; wanted <= tries; wanted += 1 + tries / 50) {
        EXPECT_NEAR(chance_at_least(wanted, tries * chance, tries * chance * (1 - chance)), tail(share, wanted), 1e-9)
            << wanted << " of " << tries << " at " << chance;
      }
    }
  }
}

// Tries of two kinds, as from two sessions: within 5e-3 where their chances lie within 0.4 of each other. Half sure and
// half hopeless is the worst case there is; its bounds are what the header states.
TEST(Binomial, NearWhenTriesDiffer) {
  struct Mixture {
    int of_each;
    double a, b, allowed;
  };
  for (const auto& [of_each, a, b, allowed] : {Mixture{10, 0.3, 0.6, 5e-3},
                                               {10, 0.1, 0.5, 5e-3},
                                               {10, 0.7, 0.9, 5e-3},
                                               {40, 0.3, 0.6, 5e-3},
                                               {40, 0.1, 0.5, 5e-3},
                                               {150, 0.1, 0.5, 5e-3},
                                               {150, 0.7, 0.9, 5e-3},
                                               {10, 0.05, 0.95, 0.09},
                                               {150, 0.05, 0.95, 0.015}}) {
    std::vector<double> chances(static_cast<std::size_t>(of_each), a);
    chances.resize(static_cast<std::size_t>(2 * of_each), b);
    const auto share = poisson_binomial(chances);
    const double mean = of_each * (a + b);
    const double variance = of_each * (a * (1 - a) + b * (1 - b));
    for (int wanted = 1; wanted <= 2 * of_each; ++wanted) {
      EXPECT_NEAR(chance_at_least(wanted, mean, variance), tail(share, wanted), allowed)
          << wanted << " of 2 x " << of_each << ", " << a << ", " << b;
    }
  }
}

// The quick form within 5e-3 for a single plant and 2.5e-3 for more, as its header says, down to the Poisson limit.
TEST(Binomial, QuickIsNearOverTheWholeRange) {
  for (const int wanted : {1, 2, 3, 5, 8, 20, 100, 1000}) {
    for (const double chance : {1e-6, 0.01, 0.1, 0.3, 0.5, 0.8, 0.95, 0.999}) {
      for (double expected = 0.05 * wanted; expected < 6.0 * wanted; expected *= 1.02) {
        const double exact = chance_at_least(wanted, expected, expected * (1 - chance));
        EXPECT_NEAR(quick_chance_at_least(wanted, expected, expected * (1 - chance)), exact,
                    wanted == 1 ? 5e-3 : 2.5e-3)
            << wanted << " wanted, mean " << expected << ", chance " << chance;
      }
    }
  }
}

TEST(Binomial, Limits) {
  for (const auto chance : {chance_at_least, quick_chance_at_least}) {
    EXPECT_EQ(chance(0, 3, 2), 1);
    EXPECT_EQ(chance(1, 0, 0), 0);
    EXPECT_EQ(chance(60, 60, 0), 1);  // sixty certain ones
    EXPECT_EQ(chance(61, 60, 0), 0);
  }
  // Poisson: P(X >= 1) = 1 - exp(-mean).
  EXPECT_NEAR(chance_at_least(1, 2.5, 2.5), 1 - std::exp(-2.5), 1e-7);
}

TEST(Binomial, SmallestNumberIsTheFirstThatIsEnough) {
  EXPECT_EQ(smallest_number(1, 0.5, 0.5, 1000), 1);
  EXPECT_EQ(smallest_number(1, 0.5, 0.51, 1000), 2);
  EXPECT_EQ(smallest_number(40, 1.0, 0.99, 1000), 40);
  EXPECT_EQ(smallest_number(0, 0.5, 0.9, 1000), 0);
  EXPECT_FALSE(smallest_number(5, 0.0, 0.9, 1000).has_value());
  EXPECT_FALSE(smallest_number(600, 0.5, 0.9, 1000).has_value());
}

// A count never falls with its score, and with more tries only where the way of drawing it changes (variance 9).
TEST(Binomial, CountRisesWithScoreAndTries) {
  for (const double chance : {0.05, 0.4, 0.75, 0.98}) {
    for (const int tries : {1, 12, 30, 47, 200, 5'000}) {
      int before = 0;
      for (double score = -4; score <= 4; score += 0.01) {
        const int now = binomial_at_score(tries, chance, score);
        ASSERT_GE(now, before) << tries << ", " << chance << ", " << score;
        ASSERT_LE(now, tries);
        before = now;
      }
    }
    for (const double score : {-2.5, -0.7, 0.0, 1.1, 3.0}) {
      int before = 0;
      for (int tries = 1; tries <= 2'000; ++tries) {
        const int now = binomial_at_score(tries, chance, score);
        ASSERT_GE(now, before - 1) << tries << ", " << chance << ", " << score;
        before = std::max(now, before);
      }
    }
  }
}

// Over 20,000 evenly spread scores each count comes as often as the binomial says: the largest gap between the two
// distributions below 0.012 where Cornish-Fisher is used (its error is near 1 / (10 variance)), 1e-3 by inversion.
TEST(Binomial, CountHasItsDistribution) {
  constexpr int kScores = 20'000;
  for (const auto& [tries, chance] :
       {std::pair{20, 0.3}, {50, 0.9}, {400, 0.01}, {60, 0.3}, {300, 0.85}, {2'000, 0.5}}) {
    std::vector<double> found(static_cast<std::size_t>(tries) + 1);
    for (int i = 0; i < kScores; ++i) {
      const int count = binomial_at_score(tries, chance, normal_quantile((i + 0.5) / kScores));
      found[static_cast<std::size_t>(count)] += 1.0 / kScores;
    }
    const auto share = poisson_binomial(std::vector<double>(static_cast<std::size_t>(tries), chance));
    double below_found = 0;
    double below = 0;
    double gap = 0;
    for (std::size_t k = 0; k < share.size(); ++k) {
      below_found += found[k];
      below += share[k];
      gap = std::max(gap, std::abs(below_found - below));
    }
    const bool inverted = tries * chance * (1 - chance) < 9;
    EXPECT_LT(gap, inverted ? 1e-3 : 0.012) << tries << ", " << chance;
  }
}

}  // namespace
}  // namespace strikebed::evidence
