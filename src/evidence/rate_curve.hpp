#pragma once
// A believed rate as a function of a standard normal score: the bridge from low-discrepancy points to rates.
#include <vector>

#include "base/belief.hpp"
#include "evidence/beta.hpp"

namespace strikebed::evidence {

/// logit(rate) at score z, where z is the normal score of the belief's quantile. Tabulated once (cubic between nodes an
/// eighth of an sd apart) because a Beta quantile costs microseconds and a plan needs tens of thousands.
/// Accuracy: rate within 1e-6 of Boost.Math for scores within +-5 (tests/evidence/rate_curve_test.cpp).
class RateCurve {
 public:
  explicit RateCurve(const RateBelief& belief);

  [[nodiscard]] bool known() const { return logits_.empty(); }
  [[nodiscard]] double known_share() const { return share_; }
  /// The drawn rate with a batch effect added on the logit scale. A known rate moves only with its batch.
  [[nodiscard]] double rate(double score, double batch_effect) const;
  /// The drawn long-run rate on the logit scale; +-infinity for a known 0 or 1.
  [[nodiscard]] double logit(double score) const;

 private:
  double share_ = 0;
  std::vector<double> logits_;
};

[[nodiscard]] double logit_of(double share);
[[nodiscard]] double share_of(double logit);

}  // namespace strikebed::evidence
