#pragma once
// The Beta distribution behind a belief about a rate.
#include "base/belief.hpp"
#include "base/result.hpp"

namespace strikebed::evidence {

struct Beta {
  double a = 1;
  double b = 1;

  [[nodiscard]] double mean() const { return a / (a + b); }
  [[nodiscard]] double quantile(double p) const;  ///< p in [0, 1]
  [[nodiscard]] double share_below(double x) const;
};

/// Beta(1 + good, 1 + of - good): a uniform belief updated by a test. 0 <= good <= of.
[[nodiscard]] Beta beta_from_test(double good, double of);

/// The Beta with these 5 and 95 % points, 0 < low < high < 1. Points met to 1e-6.
/// Errors: no Beta within 1e-4 of both points (only for ranges within 1e-6 of 0 or 1).
[[nodiscard]] Result<Beta> beta_from_range(double low, double high);

/// The Beta whose 5, 50 and 95 % points are nearest to low, about, high (least squares on the rate itself),
/// 0 < low < about < high < 1.
[[nodiscard]] Result<Beta> beta_from_three(double low, double about, double high);

/// Whichever of these a belief asks for; a Known rate has no Beta and is an error.
[[nodiscard]] Result<Beta> beta_of(const RateBelief& belief);

}  // namespace strikebed::evidence
