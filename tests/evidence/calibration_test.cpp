// The calibration helper on cases known by hand.
#include "tests/calibration.hpp"

#include <gtest/gtest.h>

namespace strikebed::testing_support {
namespace {

TEST(Calibration, RankCountsTheWeightBelow) {
  const std::vector<double> draws{1, 2, 3};
  const std::vector<double> weights{0.5, 0.3, 0.2};
  EXPECT_DOUBLE_EQ(rank_of(2.5, draws, weights), 0.8);
  EXPECT_DOUBLE_EQ(rank_of(2, draws, weights), 0.65);
  EXPECT_DOUBLE_EQ(rank_of(0, draws, weights), 0);
}

TEST(Calibration, CrpsOfTwoDraws) {
  // E|X - 2| = 1, E|X - X'| = 1: 1 - 1/2
  EXPECT_DOUBLE_EQ(crps(2, std::vector<double>{1, 3}, std::vector<double>{0.5, 0.5}), 0.5);
  EXPECT_DOUBLE_EQ(crps(2, std::vector<double>{5}, std::vector<double>{1}), 3);
}

TEST(Calibration, EvenRanksAreUniformAndHeapedOnesAreNot) {
  std::vector<double> even;
  std::vector<double> heaped;
  for (int k = 0; k < 100; ++k) {
    even.push_back((k + 0.5) / 100);
    heaped.push_back(0.3 + 0.4 * (k + 0.5) / 100);
  }
  EXPECT_DOUBLE_EQ(uniformity_p(even), 1);
  EXPECT_LT(uniformity_p(heaped), 1e-6);
  EXPECT_DOUBLE_EQ(coverage(even, 0.9), 0.9);
  EXPECT_DOUBLE_EQ(coverage(heaped, 0.5), 1);
}

// 1.3581 is the 5 % point of Kolmogorov's limiting distribution (Smirnov 1948, Ann. Math. Stat. 19:279-281).
TEST(Calibration, UniformityHasKolmogorovsFivePerCentPoint) {
  constexpr int kMany = 1'000'000;
  std::vector<double> shifted;
  for (int k = 0; k < kMany; ++k) shifted.push_back(std::max((k + 0.5) / kMany - 1.3581 / std::sqrt(kMany), 0.0));
  EXPECT_NEAR(uniformity_p(shifted), 0.05, 1e-3);
}

}  // namespace
}  // namespace strikebed::testing_support
