#pragma once
// Times of which only an interval is known (seen at looks), fitted by likelihood alone: a second opinion on the cure
// model, and what a comparison of trays by their times needs.
#include <span>
#include <vector>

#include "base/result.hpp"
#include "evidence/maximum_likelihood.hpp"

namespace strikebed::evidence {

/// So many came after one time and by another; by infinity: not seen to come.
struct IntervalCount {
  double after;  ///< >= 0
  double by;     ///< > after
  double count;  ///< >= 0
};

/// The distribution of (ln time - location) / scale.
enum class TimeShape {
  lognormal,    ///< normal
  loglogistic,  ///< logistic
  weibull       ///< that of the smallest of many
};

struct TimesFit {
  /// location; ln scale; where some never come, the logit of the share that does.
  MaximumLikelihood fitted;
  TimeShape shape;

  [[nodiscard]] double location() const { return fitted.estimate[0]; }
  [[nodiscard]] double scale() const;
  [[nodiscard]] double share_error() const;                 ///< standard error of the share
  [[nodiscard]] double share() const;                       ///< that comes at all; 1 where all do
  [[nodiscard]] double log_quantile(double p) const;        ///< of those that come; p in (0, 1)
  [[nodiscard]] double log_quantile_error(double p) const;  ///< its standard error
};

/// Highest likelihood of location and scale, and with `some_never` of the share that comes at all.
/// Errors: no counts; an interval that is none; no single peak (all in one interval).
/// Sources: Kalbfleisch & Prentice 2002, ch. 3; Boag 1949, J. R. Stat. Soc. B 11:15-53.
[[nodiscard]] Result<TimesFit> fit_interval_times(std::span<const IntervalCount> counts, TimeShape shape,
                                                  bool some_never);

/// A share of all times, somewhere after one time and by another.
struct IntervalMass {
  double after, by;
  double mass;
};
/// The distribution of highest likelihood without any shape: where it must have its mass, and how much (intervals of
/// which less than 1e-7 is left are dropped). Self-consistency (EM) from equal masses until none moves by 1e-12.
/// Source: Turnbull 1976, J. R. Stat. Soc. B 38:290-295. Errors as above.
[[nodiscard]] Result<std::vector<IntervalMass>> turnbull(std::span<const IntervalCount> counts);
/// Its log-likelihood.
[[nodiscard]] double log_likelihood(std::span<const IntervalMass> masses, std::span<const IntervalCount> counts);

}  // namespace strikebed::evidence
