// The single-precision inner loop against double precision.
#include "season/lognormal_kernel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace strikebed::season {
namespace {

double exact_share(double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); }

// 2e-6 as the header promises, over medians from a few degree-days to a summer and spreads from tight to loose. Beside
// it stands what rounding the inputs to single precision may move: the slope of the share in ln x is at most 0.4 /
// spread.
TEST(LognormalKernel, AgreesWithDoublePrecision) {
  for (const double median : {3.0, 130.0, 420.0, 3000.0}) {
    for (const float spread : {0.05F, 0.15F, 0.3F, 0.8F}) {
      const auto log_median = static_cast<float>(std::log(median));
      std::vector<float> warmth;
      for (double score = -8; score <= 8; score += 0.01) {
        warmth.push_back(static_cast<float>(median * std::exp(static_cast<double>(spread) * score)));
      }
      std::vector<float> shares(warmth.size());
      lognormal_shares(warmth, log_median, spread, shares);
      const double input_rounding = 0.4 / static_cast<double>(spread) * 1e-7 * (1 + std::abs(std::log(median)));
      for (std::size_t i = 0; i < warmth.size(); ++i) {
        const double z =
            (std::log(static_cast<double>(warmth[i])) - static_cast<double>(log_median)) / static_cast<double>(spread);
        ASSERT_NEAR(static_cast<double>(shares[i]), exact_share(z), 2e-6 + input_rounding)
            << median << ", " << spread << ", z " << z;
      }
    }
  }
}

TEST(LognormalKernel, NothingIsReadyWithoutWarmthAndAllWithPlenty) {
  const std::vector<float> warmth{-50, 0, 1e-30F, 1e9F};
  std::vector<float> shares(warmth.size());
  lognormal_shares(warmth, 5.0F, 0.2F, shares);
  EXPECT_NEAR(shares[0], 0, 1e-7);
  EXPECT_NEAR(shares[1], 0, 1e-7);
  EXPECT_NEAR(shares[2], 0, 1e-7);
  EXPECT_NEAR(shares[3], 1, 1e-6);
}

// A lone value, and a run whose length is no whole number of vectors, give the same bits as a long run.
TEST(LognormalKernel, DoesNotDependOnTheLengthOfTheRun) {
  std::vector<float> warmth(67);
  for (std::size_t i = 0; i < warmth.size(); ++i) warmth[i] = 40 + 9 * static_cast<float>(i);
  std::vector<float> shares(warmth.size());
  lognormal_shares(warmth, 5.5F, 0.3F, shares);
  for (std::size_t i = 0; i < warmth.size(); ++i) EXPECT_EQ(shares[i], lognormal_share(warmth[i], 5.5F, 0.3F));
}

TEST(LognormalKernel, NormalShareAgreesWithErfc) {
  for (double z = -8; z <= 8; z += 0.003) {
    ASSERT_NEAR(static_cast<double>(quick_normal_share(static_cast<float>(z))), exact_share(z), 2e-6) << z;
  }
}

}  // namespace
}  // namespace strikebed::season
