// The quadrature and the map of a posterior against closed forms and a dense grid; their helpers.
#include "evidence/posterior.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "evidence/gauss_hermite.hpp"
#include "evidence/normal_points.hpp"

namespace strikebed::evidence {
namespace {

TEST(GaussHermite, MomentsOfANormalNumberAreExact) {
  for (const int points : {1, 2, 5, 7, 11, 16}) {
    double factorial = 1;
    for (int power = 0; power < 2 * points; power += 2) {
      double moment = 0;
      for (const auto& [score, weight] : gauss_hermite(points)) moment += weight * std::pow(score, power);
      if (power > 0) factorial *= power - 1;
      ASSERT_NEAR(moment / factorial, 1, 1e-10) << points << " points, power " << power;
    }
  }
}

// Normal likelihoods: everything is known.
TEST(Posterior, NormalLikelihoodInThreeScores) {
  // y = x0 + x1 + 0.5 x2 + noise of sd 0.3, y = 2
  const auto log_likelihood = [](const ScorePoint& x) {
    return -std::pow((2 - x[0] - x[1] - 0.5 * x[2]) / 0.3, 2) / 2;
  };
  const Posterior posterior(3, log_likelihood);
  const double variance = 1 + 1 + 0.25 + 0.09;
  EXPECT_NEAR(posterior.mean(0), 2 / variance, 1e-3);
  EXPECT_NEAR(posterior.mean(2), 1 / variance, 1e-3);
  EXPECT_NEAR(posterior.covariance(0, 1), -1 / variance, 1e-3);
  EXPECT_NEAR(posterior.sd(2), std::sqrt(1 - 0.25 / variance), 1e-3);
  EXPECT_NEAR(posterior.log_evidence(), std::log(0.3 / std::sqrt(variance)) - 2 / variance, 1e-3);
}

// What is known of one score only is all that changes.
TEST(Posterior, WithoutDataItIsThePrior) {
  for (int dimensions = 1; dimensions <= kMostScores; ++dimensions) {
    const Posterior posterior(dimensions, [](const ScorePoint&) { return 0.0; });
    const auto last = static_cast<std::size_t>(dimensions - 1);
    EXPECT_NEAR(posterior.mean(last), 0, 1e-6);
    EXPECT_NEAR(posterior.sd(last), 1, 1e-4);
    EXPECT_NEAR(posterior.log_evidence(), 0, 1e-4);
    const WeightedDraws draws(posterior, normal_points(dimensions, 10));
    EXPECT_GT(draws.effective_count(), 0.8 * 1024);
    EXPECT_NEAR(draws.quantile([&](const ScorePoint& x) { return x[last]; }, 0.95), 1.645, 0.02);
  }
}

/// A bent ridge: few came early, so it is slow or it is few. The share and the time of one batch, 4 of 20 by time 1.
double ridge(const ScorePoint& x) {
  const double share = 1 / (1 + std::exp(-0.7 - 0.8 * x[0]));
  const double through = share * normal_share_below((0 - 0.1 - 0.5 * x[1]) / 0.3);
  return 4 * std::log(through) + 16 * std::log1p(-through);
}

struct Moments {
  double mass = 0, a = 0, b = 0, aa = 0, ab = 0, bb = 0;
};
Moments on_a_dense_grid(double (*log_likelihood)(const ScorePoint&)) {
  Moments m;
  constexpr double kStep = 0.02;
  for (double a = -6; a <= 6; a += kStep) {
    for (double b = -6; b <= 6; b += kStep) {
      const double p = std::exp(log_likelihood({a, b, 0, 0}) - (a * a + b * b) / 2) * kStep * kStep / (2 * M_PI);
      m.mass += p;
      m.a += a * p;
      m.b += b * p;
      m.aa += a * a * p;
      m.ab += a * b * p;
      m.bb += b * b * p;
    }
  }
  for (double* moment : {&m.a, &m.b, &m.aa, &m.ab, &m.bb}) *moment /= m.mass;
  return m;
}

TEST(Posterior, ABentRidgeAsOnADenseGrid) {
  const Moments m = on_a_dense_grid(ridge);
  const Posterior posterior(2, ridge);
  EXPECT_NEAR(posterior.log_evidence(), std::log(m.mass), 0.02);
  EXPECT_NEAR(posterior.mean(0), m.a, 0.02);
  EXPECT_NEAR(posterior.mean(1), m.b, 0.02);
  EXPECT_NEAR(posterior.sd(0), std::sqrt(m.aa - m.a * m.a), 0.02);
  EXPECT_NEAR(posterior.sd(1), std::sqrt(m.bb - m.b * m.b), 0.02);
  EXPECT_NEAR(posterior.covariance(0, 1), m.ab - m.a * m.b, 0.02);
}

TEST(Posterior, DrawsNearABentRidgeKeepTheirWeight) {
  const Moments m = on_a_dense_grid(ridge);
  const Posterior posterior(2, ridge);
  const WeightedDraws draws(posterior, normal_points(2, 11));
  EXPECT_GT(draws.effective_count(), 0.9 * 2048);
  double mean = 0;
  double ratio = 0;  // of the evidence by the draws to that by quadrature
  for (std::size_t k = 0; k < draws.scores().size(); ++k) mean += draws.weights()[k] * draws.scores()[k][0];
  for (const ScorePoint& z : normal_points(2, 11)) ratio += std::exp(posterior.near(z).log_weight) / 2048;
  EXPECT_NEAR(mean, m.a, 0.01);
  EXPECT_NEAR(ratio, 1, 0.02);
}

TEST(Posterior, TheSameDataGiveTheSameDraw) {
  const Posterior one(2, ridge);
  const Posterior other(2, ridge);
  const ScorePoint z{0.3, -1.2, 0, 0};
  EXPECT_EQ(one.near(z).scores, other.near(z).scores);
  EXPECT_EQ(one.near(z).log_weight, other.near(z).log_weight);
}

TEST(WeightedDraws, QuantilesOfFewAreByHand) {
  const std::vector<double> log_weights{std::log(1), std::log(2), std::log(1)};
  const WeightedDraws draws({{3}, {1}, {2}}, log_weights);
  const auto value = [](const ScorePoint& x) { return x[0]; };
  EXPECT_DOUBLE_EQ(draws.quantile(value, 0.01), 1);   // below the middle of the first
  EXPECT_DOUBLE_EQ(draws.quantile(value, 0.25), 1);   // at the middle of the weight of a half
  EXPECT_DOUBLE_EQ(draws.quantile(value, 0.625), 2);  // 0.5 + 0.25 / 2
  EXPECT_DOUBLE_EQ(draws.quantile(value, 0.75), 2.5);
  EXPECT_DOUBLE_EQ(draws.quantile(value, 0.99), 3);
  EXPECT_DOUBLE_EQ(draws.effective_count(), 16.0 / 6);
}

}  // namespace
}  // namespace strikebed::evidence
