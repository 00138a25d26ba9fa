#include "base/random.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

namespace strikebed {
namespace {

// Covers  the quantile undoes the distribution function, from the far tails to the middle.
// Ref     std::erfc, correct to a few units in the last place.  Tol  those stated in random.hpp.
TEST(Random, NormalQuantileUndoesTheDistribution) {
  for (double z = -6; z <= 5; z += 0.0173) {  // above 5, 1 - p has too few digits left to tell
    const double p = normal_share_below(z);
    EXPECT_NEAR(normal_quantile(p), z, 1e-9) << z;
    EXPECT_NEAR(quick_normal_quantile(p), z, 1.2e-9 * std::abs(z) + 1e-10) << z;
  }
  EXPECT_NEAR(normal_quantile(0.5), 0, 1e-15);
  EXPECT_NEAR(normal_quantile(0.975), 1.959963984540054, 1e-12);  // R 4.2 qnorm (from memory)
}

// Covers  mean and variance of 200,000 numbers.  Tol  four standard errors: 0.009 and 0.013.
// Ref  Abramowitz & Stegun 1964, 7.1.28, states an error below 3e-7 of erf; compared with std::erfc.
TEST(Random, TheQuickNormalShareIsNearTheExactOne) {
  for (double z = -8; z <= 8; z += 0.01) EXPECT_NEAR(quick_normal_share_below(z), normal_share_below(z), 3e-7) << z;
}

TEST(Random, NormalNumbersAreStandard) {
  constexpr int kCount = 200000;
  double sum = 0;
  double squares = 0;
  for (int i = 0; i < kCount; ++i) {
    const double z = random_normal(1, static_cast<std::uint64_t>(i));
    sum += z;
    squares += z * z;
  }
  EXPECT_NEAR(sum / kCount, 0, 0.009);
  EXPECT_NEAR(squares / kCount, 1, 0.013);
}

// Covers  neighbouring arguments give unrelated numbers; the same arguments the same one.
TEST(Random, EveryArgumentCounts) {
  std::set<std::uint64_t> seen;
  for (std::uint64_t seed = 0; seed < 4; ++seed) {
    for (std::uint64_t a = 0; a < 10; ++a) {
      for (std::uint64_t b = 0; b < 10; ++b) {
        for (std::uint64_t c = 0; c < 10; ++c) seen.insert(random_bits(seed, a, b, c));
      }
    }
  }
  EXPECT_EQ(seen.size(), 4000U);
  EXPECT_EQ(random_bits(1, 2, 3, 4), random_bits(1, 2, 3, 4));
}

}  // namespace
}  // namespace strikebed
