#include "evidence/rate_curve.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"

namespace strikebed::evidence {
namespace {

constexpr double kReach = 5;  // scores beyond are taken as +-5: one draw in 1.7 million
constexpr int kPerSd = 8;
constexpr int kNodes = 2 * static_cast<int>(kReach) * kPerSd + 3;  // one more node on each side for the cubic

}  // namespace

double logit_of(double share) { return std::log(share) - std::log1p(-share); }
double share_of(double logit) { return 1 / (1 + std::exp(-logit)); }

RateCurve::RateCurve(const RateBelief& belief) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) {
    share_ = known->share;
    return;
  }
  const Beta beta = beta_of(belief).value();
  logits_.reserve(kNodes);
  for (int node = -1; node < kNodes - 1; ++node) {
    const double score = -kReach + static_cast<double>(node) / kPerSd;
    const double low = normal_share_below(score);
    // The nearer end keeps its digits.
    const double q = low < 0.5 ? beta.quantile(low) : 1 - Beta{beta.b, beta.a}.quantile(normal_share_below(-score));
    logits_.push_back(logit_of(std::clamp(q, 1e-15, 1 - 1e-15)));
  }
}

double RateCurve::logit(double score) const {
  if (known()) return logit_of(share_);
  const double at = (std::clamp(score, -kReach, kReach) + kReach) * kPerSd;
  const auto node = std::min(static_cast<std::size_t>(at), static_cast<std::size_t>(kNodes - 4));
  const double t = at - static_cast<double>(node);
  const double a = logits_[node];
  const double b = logits_[node + 1];
  const double c = logits_[node + 2];
  const double d = logits_[node + 3];
  // Cubic through the four nodes at -1, 0, 1, 2 (Lagrange).
  return b + t * ((c - a / 3 - b / 2 - d / 6) + t * ((a + c) / 2 - b + t * ((d - a) / 6 + (b - c) / 2)));
}

double RateCurve::rate(double score, double batch_effect) const {
  if (known() && batch_effect == 0) return share_;
  return share_of(logit(score) + batch_effect);
}

}  // namespace strikebed::evidence
