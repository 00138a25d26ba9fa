#pragma once
// A rate that differs between batches, learnt from what was seen of some: who stands, is good enough, is weaned, lives
// through winter, has a good foot.
//
// logit of a batch's rate = logit of the long-run rate + batch's effect, normal with the belief's batch spread about 0.
// docs/methods/shares-and-times.md
#include <functional>
#include <memory>
#include <vector>

#include "base/belief.hpp"
#include "evidence/batch_effect.hpp"
#include "evidence/posterior.hpp"

namespace strikebed::evidence {

/// The log-likelihood of what was seen of one batch, at the logit of its rate.
using RateLikelihood = std::function<LogLikelihoodAt(double logit)>;

/// So many good ones of those looked at.
[[nodiscard]] RateLikelihood binomial_likelihood(double good, double of);

/// A drawn logit.
struct LogitDraw {
  double logit;
  double log_weight;  ///< ln(posterior density / density drawn from), what was drawn before it given
};

/// A draw of the logit of a batch whose likelihood is `at`: the logit of what batches have in common moved by a normal
/// effect that is near the posterior's.
///   normal  standard normal number
template <class LogLikelihood>
[[nodiscard]] LogitDraw drawn_effect(const LogLikelihood& at, double common, double spread, double normal) {
  if (spread == 0) return {common, 0};
  const BatchEffect effect = batch_effect(at, common, spread);
  const double drawn = effect.mean + effect.sd * normal;
  const double log_prior = -drawn * drawn / (2 * spread * spread) - std::log(spread);
  const double log_drawn = -normal * normal / 2 - std::log(effect.sd);
  return {common + drawn, at(common + drawn).value + log_prior - log_drawn - effect.log_marginal};
}

class RateFit {
 public:
  /// A rate believed to be 0 or 1 exactly learns nothing.
  RateFit(const RateBelief& belief, std::vector<RateLikelihood> batches);

  /// In one score, the long-run rate's.
  [[nodiscard]] const Posterior& posterior() const { return *posterior_; }
  [[nodiscard]] double long_run_logit(double score) const;
  /// The draw of a batch at a standard normal number, the long-run rate given.
  [[nodiscard]] LogitDraw batch_logit(std::size_t batch, double score, double normal) const;

 private:
  struct Model;
  std::shared_ptr<const Model> model_;
  std::shared_ptr<const Posterior> posterior_;
};

}  // namespace strikebed::evidence
