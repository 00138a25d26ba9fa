#pragma once
// A rate that differs between batches, learnt from what was seen of some: who stands, is good enough, is weaned, lives
// through winter, has a good foot.
//
// logit of a batch's rate = logit of the long-run rate + batch's effect, normal with the belief's batch spread about 0.
// docs/methods/shares-and-times.md
#include <functional>
#include <memory>
#include <span>
#include <vector>

#include "base/belief.hpp"
#include "evidence/batch_effect.hpp"
#include "evidence/effect_maps.hpp"
#include "evidence/posterior.hpp"

namespace strikebed::evidence {

/// The log-likelihood of what was seen of one batch, at the logit of its rate.
using RateLikelihood = std::function<LogLikelihoodAt(double logit)>;

/// So many good ones of those looked at.
[[nodiscard]] RateLikelihood binomial_likelihood(double good, double of);

/// A rate in the long run, and those of its batches, drawn together.
struct RateDraw {
  double score;
  std::vector<double> effects;  ///< [batch], on the logit scale
  double log_weight;            ///< ln(posterior density / density drawn from); the weights are 1 on the mean
};

class RateFit {
 public:
  /// A rate believed to be 0 or 1 exactly learns nothing.
  RateFit(const RateBelief& belief, std::vector<RateLikelihood> batches);

  /// In one score, the long-run rate's.
  [[nodiscard]] const Posterior& posterior() const { return *posterior_; }
  [[nodiscard]] double long_run_logit(double score) const;
  /// The draw at independent standard normal numbers: of the score, and one for each batch.
  [[nodiscard]] RateDraw draw(double normal, std::span<const double> of_batches) const;

 private:
  struct Model;
  std::shared_ptr<const Model> model_;
  std::shared_ptr<const Posterior> posterior_;
  std::shared_ptr<const EffectMaps> effects_;
};

}  // namespace strikebed::evidence
