#pragma once
// The Beta distribution behind a belief about a rate.
#include <optional>

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

/// Where a range may lie. Within these limits every range has its Beta, to the digits promised below; beyond them the
/// fit would lose its way, and no count of seedlings could tell the difference.
inline constexpr double kLeastRate = 0.0001;
inline constexpr double kMostRate = 0.9999;
inline constexpr double kNarrowestRange = 0.00001;  ///< from low to high

/// What keeps a range from having its Beta, if anything.
[[nodiscard]] std::optional<Error> wrong_range(double low, double high);

/// The Beta with these 5 and 95 % points, met to 1e-6. Errors: wrong_range.
[[nodiscard]] Result<Beta> beta_from_range(double low, double high);

/// The Beta whose 5, 50 and 95 % points are nearest to low, about, high (least squares on the rate itself),
/// low < about < high. Errors: wrong_range.
[[nodiscard]] Result<Beta> beta_from_three(double low, double about, double high);

/// Whichever of these a belief asks for; a Known rate has no Beta and is an error.
[[nodiscard]] Result<Beta> beta_of(const RateBelief& belief);

}  // namespace strikebed::evidence
