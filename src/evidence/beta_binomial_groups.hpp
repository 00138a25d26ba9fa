#pragma once
// Batches whose rates differ, learnt together: how good they are in the long run and how much they differ, both from
// the counts alone.
#include <functional>
#include <span>
#include <vector>

#include "base/result.hpp"

namespace strikebed::evidence {

struct GroupCount {
  int good;
  int of;
};

/// Rates of batches are Beta(a, b); mean mu = a / (a + b) and 1 / sqrt(a + b) are uniform before, mu on (0, 1), the
/// other on (0, infinity): density (a + b)^(-5/2) of (a, b). The posterior on a grid of both. Sources: Tarone 1982,
/// Biometrics 38:215-220 (the data); Gelman et al. 2013, Bayesian Data Analysis 3rd ed., 5.3. With few batches a and b
/// have no mean (their tail is that of the prior); mu, rates and counts to come have. Accuracy: relative 2e-4 in means,
/// sds and quantiles (published checks `batches`).
class BetaBinomialGroups {
 public:
  /// Error: a count that is none, or fewer than two batches.
  [[nodiscard]] static Result<BetaBinomialGroups> of(std::span<const GroupCount> groups);

  struct Summary {
    double mean, sd;
  };
  [[nodiscard]] Summary long_run() const;  ///< of mu
  [[nodiscard]] double long_run_quantile(double p) const;
  [[nodiscard]] double intraclass_correlation() const;  ///< mean of 1 / (a + b + 1)
  /// The rate of a batch of which so many were good of so many, {0, 0} for a new one.
  [[nodiscard]] Summary rate(GroupCount seen) const;
  [[nodiscard]] double rate_quantile(GroupCount seen, double p) const;  ///< within 1e-7; p in (0, 1)
  /// Chances of 0...of good ones in a new batch of so many.
  [[nodiscard]] std::vector<double> new_counts(int of) const;

 private:
  struct Node {
    double mu, size;  ///< size = a + b
    double weight;    ///< all sum to 1
  };
  explicit BetaBinomialGroups(std::vector<Node> nodes) : nodes_(std::move(nodes)) {}
  [[nodiscard]] double mean_of(const std::function<double(double a, double b)>& value) const;

  std::vector<Node> nodes_;  ///< by rising mu
};

}  // namespace strikebed::evidence
