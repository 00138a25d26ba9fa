// The table from normal scores to rates against the Beta's own quantiles.
#include "evidence/rate_curve.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"

namespace strikebed::evidence {
namespace {

// 1e-6 of the rate within 5 sds, as promised; off the nodes, at both ends of several shapes.
TEST(RateCurve, AgreesWithTheBetaQuantile) {
  for (const auto& [good, of] : {std::pair{41.0, 50.0}, {7.0, 10.0}, {0.0, 20.0}, {300.0, 301.0}, {0.0, 0.0}}) {
    const RateCurve curve({Tested{good, of}, 0.0});
    const Beta beta = beta_from_test(good, of);
    for (double score = -5; score <= 5; score += 0.0137) {
      const double exact = score < 0 ? beta.quantile(normal_share_below(score))
                                     : 1 - Beta{beta.b, beta.a}.quantile(normal_share_below(-score));
      ASSERT_NEAR(curve.rate(score, 0), exact, 1e-6) << good << " of " << of << ", " << score;
    }
  }
}

TEST(RateCurve, RisesWithScoreAndWithTheBatch) {
  const RateCurve curve({Ranged{0.3, 0.9, 0.65}, 0.5});
  for (double score = -6; score < 6; score += 0.05) {
    EXPECT_LE(curve.rate(score, 0), curve.rate(score + 0.05, 0));
    EXPECT_LT(curve.rate(score, -0.3), curve.rate(score, 0));
    EXPECT_LT(curve.rate(score, 0), curve.rate(score, 0.3));
  }
}

// The batch moves the log odds: from a half, one logit up is e / (1 + e) = 0.731059.
TEST(RateCurve, KnownRateMovesOnlyWithItsBatch) {
  const RateCurve half({Known{0.5}, 0.4});
  EXPECT_TRUE(half.known());
  EXPECT_EQ(half.rate(3, 0), 0.5);
  EXPECT_NEAR(half.rate(-2, 1), 0.731058579, 1e-9);
  for (const double sure : {0.0, 1.0}) {
    const RateCurve curve({Known{sure}, 0.4});
    EXPECT_EQ(curve.rate(0, 0), sure);
    EXPECT_EQ(curve.rate(0, 0.7), sure);
    EXPECT_EQ(curve.rate(0, -0.7), sure);
  }
}

}  // namespace
}  // namespace strikebed::evidence
