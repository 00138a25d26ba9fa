#include "evidence/rate_fit.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "evidence/beta.hpp"
#include "evidence/cure_model.hpp"
#include "evidence/looks.hpp"
#include "evidence/rate_curve.hpp"

namespace strikebed::evidence {
namespace {

// Batches that do not differ: the Beta's update.
TEST(RateFit, WithoutBatchSpreadItIsABetaUpdate) {
  const RateFit fit({Tested{7, 10}, 0.0}, {binomial_likelihood(15, 20), binomial_likelihood(3, 5)});
  const Beta updated{1 + 7 + 18, 1 + 3 + 7};
  const double mean = fit.posterior().mean_of([&](const ScorePoint& x) { return share_of(fit.long_run_logit(x[0])); });
  EXPECT_NEAR(mean, updated.mean(), 1e-3);
}

// With batches that differ, on a dense grid over the score and both effects.
TEST(RateFit, TwoBatchesAsOnADenseGrid) {
  const RateBelief belief{Ranged{0.6, 0.95, 0.85}, 0.6};
  const RateFit fit(belief, {binomial_likelihood(18, 20), binomial_likelihood(8, 20)});
  const RateCurve curve(belief);
  double mass = 0;
  double first = 0;
  for (double z = -4; z <= 4; z += 0.05) {
    double product = std::exp(-z * z / 2);
    for (const auto& [good, of] : {std::pair(18, 20), std::pair(8, 20)}) {
      double marginal = 0;
      for (double b = -4; b <= 4; b += 0.05) {
        const double p = share_of(curve.logit(z) + 0.6 * b);
        marginal += std::exp(-b * b / 2 + good * std::log(p) + (of - good) * std::log1p(-p));
      }
      product *= marginal;
    }
    mass += product;
    first += product * z;
  }
  EXPECT_NEAR(fit.posterior().mean(0), first / mass, 0.01);
}

TEST(RateFit, ACertainRateLearnsNothing) {
  const RateFit fit({Known{1}, 0.0}, {binomial_likelihood(3, 5)});
  EXPECT_NEAR(fit.posterior().mean(0), 0, 1e-6);
  EXPECT_EQ(fit.posterior().log_evidence(), fit.posterior().log_evidence());
}

// A second lot with the time in common: where the time is known, each lot is by itself.
TEST(CureFit, OtherSharesAreLearntBesideTheFirst) {
  CureBelief belief{.share = {Tested{7, 10}, 0.0}, .time = {130, 130, 130}, .spread = {0.28, 0.28, 0.28}};
  belief.others.push_back({Tested{3, 10}, 0.0});
  const std::vector<Look> much{{100, 9, 40}, {400, 35, 40}};
  const std::vector<Look> little{{100, 1, 40}, {400, 6, 40}};
  std::vector<BatchSeen> batches{batch_seen(40, much), batch_seen(40, little)};
  batches[1].share = 1;
  const CureFit fit(belief, batches);
  const double first = fit.posterior().mean_of([&](const ScorePoint& x) { return share_of(fit.point(x).share_logit); });
  EXPECT_NEAR(first, (1 + 7 + 35) / (2.0 + 10 + 40), 0.003);
  double mass = 0;
  double second = 0;
  for (double z = -3; z <= 3; z += 0.05) {
    const CureFit::OtherShare drawn = fit.other_share(1, {}, z);
    const double weight = std::exp(drawn.log_weight - z * z / 2);
    mass += weight;
    second += weight * share_of(drawn.logit);
  }
  EXPECT_NEAR(second / mass, (1 + 3 + 6) / (2.0 + 10 + 40), 0.005);
}

}  // namespace
}  // namespace strikebed::evidence
