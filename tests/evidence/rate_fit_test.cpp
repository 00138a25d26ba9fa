#include "evidence/rate_fit.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "evidence/beta.hpp"
#include "evidence/normal_points.hpp"
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

// The score and two effects drawn at once, against quadrature over the score, then over each effect.
TEST(RateFit, DrawsOfBatchesAreThoseOfNestedQuadrature) {
  const RateBelief belief{Ranged{0.6, 0.95, 0.85}, 0.6};
  const std::vector<RateLikelihood> seen{binomial_likelihood(18, 20), binomial_likelihood(2, 6)};
  const RateFit fit(belief, seen);
  constexpr int kLog2Points = 11;
  const std::vector<ScorePoint> points = normal_points(3, kLog2Points);
  double weights = 0;
  double score = 0;
  std::array<double, 2> effect{};
  for (const ScorePoint& z : points) {
    const RateDraw draw = fit.draw(z[0], std::span(z).subspan(1, 2));
    const double weight = std::exp(draw.log_weight) / static_cast<double>(points.size());
    weights += weight;
    score += weight * draw.score;
    for (std::size_t b = 0; b < effect.size(); ++b) effect[b] += weight * draw.effects[b];
  }
  EXPECT_NEAR(weights, 1, 0.01);
  EXPECT_NEAR(score, fit.posterior().mean(0), 0.01);
  for (std::size_t b = 0; b < effect.size(); ++b) {
    const double mean = fit.posterior().mean_of(
        [&](const ScorePoint& x) { return batch_effect(seen[b], fit.long_run_logit(x[0]), 0.6).mean; });
    EXPECT_NEAR(effect[b], mean, 0.01) << b;
  }
}

}  // namespace
}  // namespace strikebed::evidence
