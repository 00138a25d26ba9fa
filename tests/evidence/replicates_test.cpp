// The range among replicates of a germination test: a brute-force count of all outcomes, and limits. Published numbers:
// tests/reference/germination_replicates.json.
#include "evidence/replicates.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

namespace strikebed::evidence {
namespace {

// Three dishes of four seeds: all 5^3 outcomes with their binomial chances; 1e-12 is rounding.
TEST(Replicates, AgreeWithCountingEveryOutcome) {
  const double share = 0.7;
  const double ways[] = {1, 4, 6, 4, 1};
  const auto chance = [&](int count) { return ways[count] * std::pow(share, count) * std::pow(1 - share, 4 - count); };
  for (int range = 0; range <= 4; ++range) {
    double sum = 0;
    for (int a = 0; a <= 4; ++a)
      for (int b = 0; b <= 4; ++b)
        for (int c = 0; c <= 4; ++c)
          if (std::max({a, b, c}) - std::min({a, b, c}) <= range) sum += chance(a) * chance(b) * chance(c);
    EXPECT_NEAR(chance_range_at_most(range, 3, 4, share), sum, 1e-12);
  }
}

TEST(Replicates, SureThings) {
  EXPECT_EQ(chance_range_at_most(-1, 4, 100, 0.8), 0);
  EXPECT_NEAR(chance_range_at_most(100, 4, 100, 0.8), 1, 1e-12);
  EXPECT_NEAR(chance_range_at_most(0, 1, 100, 0.8), 1, 1e-12);
  EXPECT_NEAR(chance_range_at_most(0, 4, 100, 1.0), 1, 1e-12);
  EXPECT_EQ(tolerated_range(4, 100, 0.0, 0.05), 0);
}

TEST(Replicates, LessRiskToleratesMore) {
  EXPECT_GE(tolerated_range(4, 50, 0.8, 0.01), tolerated_range(4, 50, 0.8, 0.05));
}

}  // namespace
}  // namespace strikebed::evidence
