// The single-precision logistic against double precision.
#include "season/logistic_kernel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <vector>

namespace strikebed::season {
namespace {

// 3e-7 as the header promises: a few units in the last place of numbers up to 1.
TEST(LogisticKernel, AgreesWithDoublePrecision) {
  for (double x = -100; x <= 100; x += 0.0137) {
    const auto logit = static_cast<float>(x);
    const double exact = 1 / (1 + std::exp(-static_cast<double>(logit)));
    ASSERT_NEAR(static_cast<double>(logistic_share(logit)), exact, 3e-7) << x;
    if (x > -79) {
      ASSERT_NEAR(static_cast<double>(logistic_share(logit)) / exact, 1, 1e-6) << x;
    }
  }
}

TEST(LogisticKernel, StaysAShareFarOut) {
  for (const float far : {1e4F, std::numeric_limits<float>::infinity()}) {
    EXPECT_EQ(logistic_share(far), 1);
    EXPECT_GE(logistic_share(-far), 0);
    EXPECT_LT(logistic_share(-far), 1e-30F);
  }
}

// A run of any length gives the bits of lone values.
TEST(LogisticKernel, DoesNotDependOnTheLengthOfTheRun) {
  std::vector<float> logits(67);
  for (std::size_t i = 0; i < logits.size(); ++i) logits[i] = -9 + 0.3F * static_cast<float>(i);
  std::vector<float> shares = logits;
  logistic_shares(shares);
  for (std::size_t i = 0; i < logits.size(); ++i) EXPECT_EQ(shares[i], logistic_share(logits[i]));
}

}  // namespace
}  // namespace strikebed::season
