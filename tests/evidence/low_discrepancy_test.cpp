// Evenly spread normal scores: every replicate is stratified in each quantity and balanced about the mean.
#include "evidence/low_discrepancy.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#ifndef __wasm__
#include <boost/random/sobol.hpp>
#endif
#include <cmath>

#include "base/random.hpp"

namespace strikebed::evidence {
namespace {

constexpr int kDimensions = 30;
constexpr int kReplicates = 6;
constexpr int kLog2Points = 9;
constexpr int kPoints = 1 << kLog2Points;

const std::vector<std::vector<float>>& scores() {
  static const auto made = normal_scores(kDimensions, kReplicates, kLog2Points, 42);
  return made;
}

// Each of 512 equal shares of the normal holds exactly one of 512 points, in every replicate and dimension.
TEST(LowDiscrepancy, EveryReplicateIsStratified) {
  ASSERT_EQ(scores().size(), static_cast<std::size_t>(kDimensions));
  for (const auto& dimension : scores()) {
    ASSERT_EQ(dimension.size(), static_cast<std::size_t>(kReplicates * kPoints));
    for (int r = 0; r < kReplicates; ++r) {
      std::vector<int> held(kPoints);
      for (int p = 0; p < kPoints; ++p) {
        const double share =
            normal_share_below(static_cast<double>(dimension[static_cast<std::size_t>(r * kPoints + p)]));
        ++held[static_cast<std::size_t>(std::clamp(static_cast<int>(share * kPoints), 0, kPoints - 1))];
      }
      // Single precision may move a point that stands on a border into the next share.
      EXPECT_LE(std::ranges::count_if(held, [](int count) { return count != 1; }), 4);
    }
  }
}

// Means near 0 and squares near 1: a stratified sample of 512 has its mean within about 0.005, 512 independent numbers
// would have it within 0.044 only.
TEST(LowDiscrepancy, EveryReplicateIsBalanced) {
  for (const auto& dimension : scores()) {
    for (int r = 0; r < kReplicates; ++r) {
      double mean = 0;
      double squares = 0;
      for (int p = 0; p < kPoints; ++p) {
        const auto score = static_cast<double>(dimension[static_cast<std::size_t>(r * kPoints + p)]);
        mean += score / kPoints;
        squares += score * score / kPoints;
      }
      EXPECT_NEAR(mean, 0, 0.01);
      EXPECT_NEAR(squares, 1, 0.03);
    }
  }
}

// Two quantities are unrelated: their correlation over all replicates stays below 0.06 (independent numbers: 0.018 sd).
TEST(LowDiscrepancy, QuantitiesAreUnrelated) {
  for (std::size_t a = 0; a < kDimensions; ++a) {
    for (std::size_t b = 0; b < a; ++b) {
      double product = 0;
      for (std::size_t i = 0; i < scores()[a].size(); ++i) {
        product += static_cast<double>(scores()[a][i]) * static_cast<double>(scores()[b][i]);
      }
      EXPECT_NEAR(product / static_cast<double>(scores()[a].size()), 0, 0.06) << a << ", " << b;
    }
  }
}

#ifndef __wasm__  // whose library lacks what Boost.Random asks for
TEST(LowDiscrepancy, IsTheNetOfBoost) {
  constexpr std::uint64_t kSeed = 3;
  const ShiftedNets nets(kMostDimensions, 2, 10, kSeed);
  boost::random::sobol sobol(kMostDimensions);
  std::vector<std::vector<std::uint64_t>> net(kMostDimensions, {0});
  for (int p = 1; p < 1024; ++p) {
    for (auto& dimension : net) dimension.push_back(sobol());
  }
  for (std::size_t d = 0; d < kMostDimensions; ++d) {
    const std::vector<float> scores = nets.normal_scores(d);
    const std::uint64_t shift = random_bits(kSeed, 0x50b01, d, 0);
    for (std::size_t p = 0; p < 1024; ++p) {
      const double share = (static_cast<double>((net[d][p] ^ shift) >> 11) + 0.5) * 0x1p-53;
      ASSERT_EQ(scores[p], static_cast<float>(quick_normal_quantile(share))) << "dimension " << d << ", point " << p;
    }
  }
}
#endif

TEST(LowDiscrepancy, DependsOnItsSeedOnly) {
  EXPECT_EQ(normal_scores(3, 2, 5, 7), normal_scores(3, 2, 5, 7));
  EXPECT_NE(normal_scores(3, 2, 5, 7), normal_scores(3, 2, 5, 8));
  // The first dimensions and replicates do not depend on how many follow.
  const auto few = normal_scores(2, 2, 5, 7);
  const auto many = normal_scores(5, 2, 5, 7);
  EXPECT_EQ(few[0], many[0]);
  EXPECT_EQ(few[1], many[1]);
}

}  // namespace
}  // namespace strikebed::evidence
