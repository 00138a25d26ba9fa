#pragma once
// The log-likelihood of what was seen of one batch, as a function of the logit of its share alone: the time each look
// stands for is worked out once, then the logit is asked for many times.
#include <limits>
#include <vector>

#include "evidence/batch_effect.hpp"
#include "evidence/cure_model.hpp"

namespace strikebed::evidence {

/// ln of the time, as a distribution of those that pass.
struct PassingTime {
  double log_median;
  double spread;  ///< > 0
  double delay;

  /// Where a time stands among them, in standard normal scores; -infinity up to the delay.
  [[nodiscard]] double score(double time) const;
};

class ShareTerms {
 public:
  ///   failure_half_life  age by which half of those that never pass are lost, > 0; infinity: they are never lost, and
  ///                      those that are were lost to something else
  ShareTerms(const BatchSeen& seen, const PassingTime& time,
             double failure_half_life = std::numeric_limits<double>::infinity());

  /// At a logit; beyond +-35 as there.
  [[nodiscard]] LogLikelihoodAt operator()(double logit) const;
  /// The chance that one that waits comes through at all.
  [[nodiscard]] double chance_of_waiting(double logit) const;

 private:
  void add_losses(const BatchSeen& seen, const PassingTime& age);
  struct Sample {
    double log_through, log_after;  ///< of those that pass: ln of the share through, and of the rest
    double through, others;         ///< weighted counts
  };
  double constant_ = 0;
  double passed_ = 0;
  double lost_ = 0;
  double waiting_;
  /// ln of the share of those that pass which are not through when looked at last, to that of the others which are not
  /// lost by then
  double log_after_;
  std::vector<Sample> samples_;
};

}  // namespace strikebed::evidence
