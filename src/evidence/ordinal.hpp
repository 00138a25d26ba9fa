#pragma once
// Counts of ordered stages against what moves them: a cumulative link model.
#include <span>
#include <vector>

#include "base/result.hpp"
#include "evidence/maximum_likelihood.hpp"

namespace strikebed::evidence {

/// Counts by stage, lowest first, at one setting of the covariates.
struct StageCounts {
  std::vector<double> covariates;
  std::vector<double> counts;
};

enum class CumulativeLink { probit, logit };

struct OrdinalFit {
  /// thresholds, lowest first; then a slope for each covariate
  MaximumLikelihood fitted;
  std::size_t thresholds;
  CumulativeLink link;

  /// The share of each stage at some covariates.
  [[nodiscard]] std::vector<double> shares_at(std::span<const double> covariates) const;
  /// With one covariate, the logarithm of a clock: the stage is passed at log-normal times. ln of the median for
  /// passing threshold k, the standard error of that, and the sd of the logarithm, which all thresholds have in common.
  [[nodiscard]] double crossing_log_median(std::size_t k) const;
  [[nodiscard]] double crossing_log_median_error(std::size_t k) const;
  [[nodiscard]] double crossing_log_sd() const;
};

/// P(stage <= k) = F(threshold_k - slopes . covariates), by highest likelihood.
/// Errors: rows of different lengths, fewer than two stages, a stage that nobody is in, no single peak.
/// Source: McCullagh 1980, J. R. Stat. Soc. B 42:109-142.
[[nodiscard]] Result<OrdinalFit> fit_ordinal(std::span<const StageCounts> rows, CumulativeLink link);

}  // namespace strikebed::evidence
