#include "evidence/rate_fit.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "evidence/logistic.hpp"
#include "evidence/rate_curve.hpp"

namespace strikebed::evidence {

RateLikelihood binomial_likelihood(double good, double of) {
  return [good, of](double logit) {
    const double at = std::clamp(logit, -kFarthestLogit, kFarthestLogit);
    const Logistic here(at);
    LogLikelihoodAt both = through(at, here, good);
    return both += never(here, of - good);
  };
}

struct RateFit::Model {
  Model(const RateBelief& belief, std::vector<RateLikelihood> seen)
      : curve(belief), batch_spread(belief.batch_spread.value_or(0)), batches(std::move(seen)) {
    const bool is_certain = curve.known() && (curve.known_share() <= 0 || curve.known_share() >= 1);
    if (is_certain) batches.clear();
  }
  [[nodiscard]] double log_likelihood(double score) const {
    if (batches.empty()) return 0;
    const double common = curve.logit(score);
    double sum = 0;
    for (const RateLikelihood& batch : batches) sum += over_batch_effect(batch, common, batch_spread).value;
    return sum;
  }

  RateCurve curve;
  double batch_spread;
  std::vector<RateLikelihood> batches;
};

RateFit::RateFit(const RateBelief& belief, std::vector<RateLikelihood> batches)
    : model_(std::make_shared<const Model>(belief, std::move(batches))),
      posterior_(std::make_shared<const Posterior>(
          1, [model = model_](const ScorePoint& scores) { return model->log_likelihood(scores[0]); })) {}

double RateFit::long_run_logit(double score) const { return model_->curve.logit(score); }

LogitDraw RateFit::batch_logit(std::size_t batch, double score, double normal) const {
  const double common = long_run_logit(score);
  if (batch >= model_->batches.size()) return {common, 0};  // certain
  return drawn_effect(model_->batches[batch], common, model_->batch_spread, normal);
}

}  // namespace strikebed::evidence
