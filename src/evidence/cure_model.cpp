#include "evidence/cure_model.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "evidence/batch_effect.hpp"
#include "evidence/rate_curve.hpp"
#include "evidence/share_terms.hpp"

namespace strikebed::evidence {
namespace {

struct LogNormal {
  double log_median, log_sd;
  explicit LogNormal(const Quantity& quantity) : log_median(std::log(quantity.value)), log_sd(log_sd_of(quantity)) {}
  [[nodiscard]] double log_at(double score) const { return log_median + log_sd * score; }
};

/// A normal draw of an effect, and what makes up for the effect's not being normal.
template <class LogLikelihood>
LogitDraw drawn_effect(const LogLikelihood& at, double common, double spread, double normal) {
  if (spread == 0) return {common, 0};
  const BatchEffect effect = batch_effect(at, common, spread);
  const double drawn = effect.mean + effect.sd * normal;
  const double log_prior = -drawn * drawn / (2 * spread * spread) - std::log(spread);
  const double log_drawn = -normal * normal / 2 - std::log(effect.sd);
  return {common + drawn, at(common + drawn).value + log_prior - log_drawn - effect.log_marginal};
}

}  // namespace

struct CureFit::Model {
  Model(const CureBelief& belief, std::vector<BatchSeen> batches)
      : share(belief.share),
        batch_spread(belief.share.batch_spread.value_or(0)),
        method_spread(belief.method_spread),
        time(belief.time),
        spread(belief.spread),
        seen(std::move(batches)) {
    if (belief.delay) delay.emplace(*belief.delay);
    for (const BatchSeen& batch : seen) methods.insert(batch.method);
  }

  [[nodiscard]] CurePoint point(const ScorePoint& scores) const {
    return {.share_logit = share.logit(scores[kShare]),
            .log_time = time.log_at(scores[delay ? kDelay + 1 : kDelay]),
            .spread = std::exp(spread.log_at(scores[delay ? kDelay + 2 : kDelay + 1])),
            .delay = delay ? std::exp(delay->log_at(scores[kDelay])) : 0};
  }
  [[nodiscard]] ShareTerms terms_of(const BatchSeen& batch, const CurePoint& at) const {
    return {batch, PassingTime{at.log_time + std::log(batch.time_factor), at.spread * batch.spread_factor, at.delay}};
  }
  [[nodiscard]] std::vector<ShareTerms> terms(const CurePoint& at) const {
    std::vector<ShareTerms> all;
    all.reserve(seen.size());
    for (const BatchSeen& batch : seen) all.push_back(terms_of(batch, at));
    return all;
  }
  /// What a method's batches say of its logit.
  [[nodiscard]] LogLikelihoodAt of_method(int method, const std::vector<ShareTerms>& terms, double logit) const {
    LogLikelihoodAt sum;
    for (std::size_t i = 0; i < seen.size(); ++i) {
      if (seen[i].method == method) sum += over_batch_effect(terms[i], logit + seen[i].offset, batch_spread);
    }
    return sum;
  }
  [[nodiscard]] double log_likelihood(const ScorePoint& scores) const {
    const CurePoint at = point(scores);
    const std::vector<ShareTerms> all = terms(at);
    double sum = 0;
    for (const int method : methods) {
      const auto of_logit = [&](double logit) { return of_method(method, all, logit); };
      sum += over_batch_effect(of_logit, at.share_logit, method_spread).value;
    }
    return sum;
  }

  RateCurve share;
  double batch_spread, method_spread;
  LogNormal time, spread;
  std::optional<LogNormal> delay;
  std::vector<BatchSeen> seen;
  std::set<int> methods;
};

CureFit::CureFit(const CureBelief& belief, std::vector<BatchSeen> batches)
    : model_(std::make_shared<const Model>(belief, std::move(batches))) {
  posterior_ = std::make_shared<const Posterior>(
      belief.delay ? 4 : 3, [model = model_](const ScorePoint& scores) { return model->log_likelihood(scores); });
}

CurePoint CureFit::point(const ScorePoint& scores) const { return model_->point(scores); }

double CureFit::log_likelihood(const ScorePoint& scores) const { return model_->log_likelihood(scores); }

LogitDraw CureFit::method_logit(int method, const ScorePoint& scores, double normal) const {
  const CurePoint at = point(scores);
  if (model_->method_spread == 0) return {at.share_logit, 0};
  const std::vector<ShareTerms> all = model_->terms(at);
  const auto of_logit = [&](double logit) { return model_->of_method(method, all, logit); };
  return drawn_effect(of_logit, at.share_logit, model_->method_spread, normal);
}

LogitDraw CureFit::batch_logit(std::size_t batch, const ScorePoint& scores, double method_logit, double normal) const {
  const BatchSeen& seen = model_->seen[batch];
  return drawn_effect(model_->terms_of(seen, point(scores)), method_logit + seen.offset, model_->batch_spread, normal);
}

double CureFit::chance_of_waiting(std::size_t batch, const CurePoint& at, double logit) const {
  return model_->terms_of(model_->seen[batch], at).chance_of_waiting(logit);
}

}  // namespace strikebed::evidence
