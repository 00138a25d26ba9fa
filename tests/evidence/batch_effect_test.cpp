// A batch's effect averaged out against a dense grid, and its derivatives against differences.
#include "evidence/batch_effect.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::evidence {
namespace {

/// So many of so many.
struct Counted {
  double good, of;
  LogLikelihoodAt operator()(double logit) const {
    const double p = 1 / (1 + std::exp(-logit));
    return {good * std::log(p) + (of - good) * std::log1p(-p), good - of * p, -of * p * (1 - p)};
  }
};

BatchEffect on_a_dense_grid(const Counted& at, double common, double spread) {
  constexpr double kStep = 1e-3;
  double mass = 0;
  double first = 0;
  double second = 0;
  for (double score = -20; score <= 20; score += kStep) {
    const double p = std::exp(at(common + spread * score).value - score * score / 2) * kStep / std::sqrt(2 * M_PI);
    mass += p;
    first += p * spread * score;
    second += p * spread * spread * score * score;
  }
  const double mean = first / mass;
  return {std::log(mass), mean, std::sqrt(second / mass - mean * mean)};
}

TEST(BatchEffect, AsOnADenseGrid) {
  for (const Counted& at : {Counted{0, 0}, {0, 20}, {3, 20}, {20, 20}, {1, 2}, {150, 200}, {2, 200}}) {
    for (const double common : {-2.0, 0.5, 3.0}) {
      for (const double spread : {0.2, 0.5, 1.0}) {
        const BatchEffect exact = on_a_dense_grid(at, common, spread);
        const BatchEffect effect = batch_effect(at, common, spread);
        ASSERT_NEAR(effect.log_marginal, exact.log_marginal, 5e-4) << at.good << " of " << at.of << ", " << spread;
        ASSERT_NEAR(effect.mean, exact.mean, 2e-3 * spread);
        ASSERT_NEAR(effect.sd, exact.sd, 4e-3 * spread);
      }
    }
  }
}

TEST(BatchEffect, DerivativesAreThoseOfTheMarginal) {
  const Counted at{3, 20};
  constexpr double kStep = 1e-3;
  const auto marginal = [&](double common) { return on_a_dense_grid(at, common, 0.5).log_marginal; };
  const LogLikelihoodAt over = over_batch_effect(at, -0.3, 0.5);
  const double up = marginal(-0.3 + kStep);
  const double down = marginal(-0.3 - kStep);
  EXPECT_NEAR(over.slope, (up - down) / (2 * kStep), 0.01);
  EXPECT_NEAR(over.bend, (up + down - 2 * marginal(-0.3)) / (kStep * kStep), 0.02);
}

// Two levels: with nothing between them they are one of both spreads together.
TEST(BatchEffect, OneBatchInOneMethodIsOneEffectOfBoth) {
  const Counted at{3, 20};
  const auto of_method = [&](double logit) { return over_batch_effect(at, logit, 0.4); };
  EXPECT_NEAR(over_batch_effect(of_method, 0.2, 0.3).value, over_batch_effect(at, 0.2, 0.5).value, 1e-3);
}

TEST(BatchEffect, WithoutSpreadThereIsNone) {
  const Counted at{3, 20};
  EXPECT_EQ(over_batch_effect(at, 0.2, 0).value, at(0.2).value);
}

}  // namespace
}  // namespace strikebed::evidence
