#pragma once
// Estimates of highest likelihood with their standard errors, for a handful of parameters.
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "base/result.hpp"

namespace strikebed::evidence {

struct MaximumLikelihood {
  std::vector<double> estimate;
  std::vector<double> covariance;  ///< [row * parameters + column], the inverse of the observed information
  double log_likelihood;

  [[nodiscard]] double standard_error(std::size_t parameter) const;
  /// The standard error of a smooth function of the parameters with this gradient (delta method).
  [[nodiscard]] double standard_error_of(std::span<const double> gradient) const;
};

/// By damped Newton steps on differences. A likelihood may be -infinity where a parameter cannot be, but not at
/// `start`. Accuracy: relative 1e-6 in estimates and standard errors for smooth likelihoods with one peak. Error: no
/// peak is found (the likelihood rises without end, or is flat in some direction).
[[nodiscard]] Result<MaximumLikelihood> maximise(const std::function<double(std::span<const double>)>& log_likelihood,
                                                 std::vector<double> start);

}  // namespace strikebed::evidence
