#include "evidence/rate_fit.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "evidence/logistic.hpp"
#include "evidence/normal_points.hpp"
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
          1, [model = model_](const ScorePoint& scores) { return model->log_likelihood(scores[0]); })) {
  std::vector<ScorePoint> at;
  for (const ScorePoint& normal : normal_points(1, kLog2Probes)) at.push_back(posterior_->proposed(normal).scores);
  std::vector<std::vector<BatchEffect>> effects;
  if (model_->batch_spread > 0) {
    for (const RateLikelihood& batch : model_->batches) {
      effects.emplace_back();
      for (const ScorePoint& point : at) {
        effects.back().push_back(batch_effect(batch, model_->curve.logit(point[0]), model_->batch_spread));
      }
    }
  }
  effects_ = std::make_shared<const EffectMaps>(1, at, effects);
}

double RateFit::long_run_logit(double score) const { return model_->curve.logit(score); }

RateDraw RateFit::draw(double normal, std::span<const double> of_batches) const {
  const WeightedPoint point = posterior_->proposed({normal});
  RateDraw draw{point.scores[0], std::vector<double>(of_batches.size()), point.log_weight};
  const double common = long_run_logit(draw.score);
  const Terms terms = effects_->terms(point.scores);
  for (std::size_t b = 0; b < model_->batches.size(); ++b) {
    if (b < effects_->count()) {
      const EffectMaps::Drawn drawn = effects_->drawn(b, terms, of_batches[b]);
      draw.effects[b] = drawn.effect;
      draw.log_weight += log_prior_of_effect(drawn.effect, model_->batch_spread) - drawn.log_density;
    }
    draw.log_weight += model_->batches[b](common + draw.effects[b]).value;
  }
  return draw;
}

}  // namespace strikebed::evidence
