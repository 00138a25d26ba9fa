// The filter rule: gradings, verdicts, layers between. Published numbers stand in tests/reference/filter_rule.json.
#include "mix/filter_rule.hpp"

#include <gtest/gtest.h>

#include <array>

namespace strikebed::mix {
namespace {

TEST(FilterRule, VerdictsChangeAtFourAndNine) {
  EXPECT_EQ(staying(4, 1), Staying::stays);
  EXPECT_EQ(staying(4.01, 1), Staying::slowly_lost);
  EXPECT_EQ(staying(9, 1), Staying::slowly_lost);
  EXPECT_EQ(staying(9.01, 1), Staying::washes_in);
}

// Covers: the finest sand that stays, stays; a little finer does not.
TEST(FilterRule, FinestSandThatStaysIsTheLimit) {
  const double finest = finest_d85_that_stays(3.15);
  EXPECT_EQ(staying(3.15, finest), Staying::stays);
  EXPECT_EQ(staying(3.15, 0.99 * finest), Staying::slowly_lost);
}

// Covers: a mixed grading of one part is that part; sizes rise with the share. Tolerance: halving to 1e-15.
TEST(FilterRule, MixedGradingOfOnePartIsThatPart) {
  const GrainRange range{3, 4};
  const std::array<Graded, 2> parts{{{range, 0.7}, {range, 0.2}}};
  for (const double share : {0.05, 0.15, 0.5, 0.85}) EXPECT_NEAR(finer_mm(parts, share), range.finer_mm(share), 1e-9);
  const std::array<Graded, 1> one_size{{{{0.3, 0.3}, 1}}};
  EXPECT_NEAR(finer_mm(one_size, 0.15), 0.3, 1e-9);
}

// Covers: whenever a bridge is offered, both of its sides hold.
TEST(FilterRule, ABridgeHoldsOnBothSides) {
  int offered = 0;
  for (double fine = 0.05; fine < 1; fine += 0.05) {
    const auto layer = bridge_layer(3.15, fine);
    if (!layer) continue;
    ++offered;
    EXPECT_EQ(staying(3.15, layer->finer_mm(0.85)), Staying::stays) << fine;
    EXPECT_EQ(staying(layer->finer_mm(0.15), fine), Staying::stays) << fine;
  }
  EXPECT_GT(offered, 10);
}

TEST(FilterRule, RefusesAReversedRange) {
  const auto complaint = [](GrainRange range) {
    const auto result = checked(range);
    return result ? "" : result.error().message();
  };
  EXPECT_EQ(complaint({3, 4}), "");
  EXPECT_EQ(complaint({4, 3}), "the grain range 4-3 mm is reversed; allowed: the smaller size first: 3-4 mm");
  EXPECT_EQ(complaint({0, 3}), "grains of 0-3 mm; allowed: 0.02 to 100 mm");
}

}  // namespace
}  // namespace strikebed::mix
