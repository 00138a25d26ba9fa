#pragma once
// What counts say of a share, as functions of its logit.
#include <algorithm>
#include <cmath>

#include "evidence/batch_effect.hpp"

namespace strikebed::evidence {

inline constexpr double kFarthestLogit = 35;  ///< beyond it a share is 0 or 1

/// A logit's share and ln(1 + e^logit), from one exponential.
struct Logistic {
  double share, softplus;
  explicit Logistic(double logit) {
    const double small = std::exp(-std::fabs(logit));
    share = (logit > 0 ? 1 : small) / (1 + small);
    softplus = std::max(logit, 0.0) + std::log1p(small);
  }
};

/// ln p, so often.
inline LogLikelihoodAt through(double logit, const Logistic& here, double count) {
  return {count * (logit - here.softplus), count * (1 - here.share), -count * here.share * (1 - here.share)};
}
/// ln(1 - p), so often.
inline LogLikelihoodAt never(const Logistic& here, double count) {
  return {-count * here.softplus, -count * here.share, -count * here.share * (1 - here.share)};
}

}  // namespace strikebed::evidence
