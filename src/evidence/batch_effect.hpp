#pragma once
// Batches that differ: each moves the logit of what they have in common by a normal number of its own.
#include <algorithm>
#include <cmath>
#include <utility>

#include "evidence/gauss_hermite.hpp"

namespace strikebed::evidence {

/// A log-likelihood as a function of a logit: its value, slope and second derivative there.
struct LogLikelihoodAt {
  double value = 0;
  double slope = 0;
  double bend = 0;

  LogLikelihoodAt& operator+=(const LogLikelihoodAt& other) {
    value += other.value;
    slope += other.slope;
    bend += other.bend;
    return *this;
  }
};

/// ln of an effect's density before anything was seen of its batch, but for the normal's constant. spread > 0
[[nodiscard]] inline double log_prior_of_effect(double effect, double spread) {
  return -effect * effect / (2 * spread * spread) - std::log(spread);
}

/// A batch's effect, given what the batches have in common and what was seen of this one.
struct BatchEffect {
  double log_marginal;  ///< ln of the mean likelihood over the effect
  double mean;          ///< of the effect
  double sd;
};

/// The effect b, normal about 0 with sd `spread` (> 0) before, of a batch whose likelihood at the logit `common + b` is
/// `at(logit)`, a LogLikelihoodAt with a finite value.
/// Method: the mode by damped Newton steps, then seven Gauss-Hermite points about it, as wide as it is curved there
/// (adaptive quadrature: Pinheiro & Bates 1995, J. Comput. Graph. Stat. 4:12-35). Relative error of the marginal:
/// within 1e-4 of a dense grid (tests/evidence/batch_effect_test.cpp).
template <class LogLikelihood>
[[nodiscard]] BatchEffect batch_effect(const LogLikelihood& at, double common, double spread) {
  constexpr int kPoints = 7;
  constexpr int kSteps = 30;
  const double precision = 1 / (spread * spread);
  double mode = 0;
  double curvature = precision;
  for (int step = 0; step < kSteps; ++step) {
    const LogLikelihoodAt here = at(common + mode);
    curvature = std::max(precision - here.bend, precision / 4);
    const double by = std::clamp((here.slope - precision * mode) / curvature, -2 * spread, 2 * spread);
    mode += by;
    if (std::fabs(by) * std::sqrt(curvature) < 0.02) break;
  }
  const double width = 1 / std::sqrt(curvature);
  double most = 0;
  double sum = 0;
  double first = 0;
  double second = 0;
  for (const auto& [score, weight] : gauss_hermite(kPoints)) {
    const double effect = mode + width * score;
    const double log = at(common + effect).value - precision * effect * effect / 2 + score * score / 2;
    if (sum == 0) most = log;
    const double share = weight * std::exp(log - most);
    sum += share;
    first += share * effect;
    second += share * effect * effect;
  }
  const double mean = first / sum;
  return {most + std::log(sum * width / spread), mean, std::sqrt(std::max(second / sum - mean * mean, 0.0))};
}

/// The log-likelihood of what batches have in common, the batch's effect averaged out, again with its derivatives: so
/// batches nest in methods and methods in the long run. spread >= 0; 0: there is no effect.
template <class LogLikelihood>
[[nodiscard]] LogLikelihoodAt over_batch_effect(const LogLikelihood& at, double common, double spread) {
  if (spread == 0) return at(common);
  const BatchEffect effect = batch_effect(at, common, spread);
  const double precision = 1 / (spread * spread);
  const double share = effect.sd * effect.sd * precision;  // of the spread that is left
  return {effect.log_marginal, effect.mean * precision, (share - 1) * precision};
}

}  // namespace strikebed::evidence
