#include "evidence/cure_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
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
    if (belief.failure_half_life) half_life.emplace(*belief.failure_half_life);
    for (const RateBelief& other : belief.others) others.push_back({RateCurve(other), other.batch_spread.value_or(0)});
    for (const BatchSeen& batch : seen) {
      if (batch.share == 0) methods.insert(batch.method);
    }
  }

  /// Of the scores: share, time and spread, and between them what some fits have besides.
  [[nodiscard]] int dimensions() const { return delay || half_life ? 4 : 3; }
  [[nodiscard]] CurePoint point(const ScorePoint& scores) const {
    return {.share_logit = share.logit(scores[kShare]),
            .log_time = time.log_at(scores[static_cast<std::size_t>(dimensions()) - 2]),
            .spread = std::exp(spread.log_at(scores[static_cast<std::size_t>(dimensions()) - 1])),
            .delay = delay ? std::exp(delay->log_at(scores[kDelay])) : 0,
            .failure_half_life =
                half_life ? std::exp(half_life->log_at(scores[kDelay])) : std::numeric_limits<double>::infinity()};
  }
  [[nodiscard]] ShareTerms terms_of(const BatchSeen& batch, const CurePoint& at) const {
    return {batch, PassingTime{at.log_time + std::log(batch.time_factor), at.spread * batch.spread_factor, at.delay},
            at.failure_half_life};
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
      if (seen[i].share == 0 && seen[i].method == method)
        sum += over_batch_effect(terms[i], logit + seen[i].offset, batch_spread);
    }
    return sum;
  }
  /// What its batches say of one of the other shares, at its score.
  [[nodiscard]] LogLikelihoodAt of_other(std::size_t which, const std::vector<ShareTerms>& all, double score) const {
    const Other& other = others[which - 1];
    LogLikelihoodAt sum;
    const double logit = other.curve.logit(score);
    for (std::size_t i = 0; i < seen.size(); ++i) {
      if (seen[i].share == which) sum += over_batch_effect(all[i], logit + seen[i].offset, other.batch_spread);
    }
    constexpr double kStep = 0.05;
    const double above = other.curve.logit(score + kStep);
    const double below = other.curve.logit(score - kStep);
    const double slope = std::isfinite(logit) ? (above - below) / (2 * kStep) : 0;
    const double bend = std::isfinite(logit) ? (above - 2 * logit + below) / (kStep * kStep) : 0;
    return {sum.value, sum.slope * slope, sum.bend * slope * slope + sum.slope * bend};
  }
  [[nodiscard]] double log_likelihood(const ScorePoint& scores) const {
    const CurePoint at = point(scores);
    const std::vector<ShareTerms> all = terms(at);
    double sum = 0;
    for (std::size_t which = 1; which <= others.size(); ++which) {
      const auto of_score = [&](double score) { return of_other(which, all, score); };
      sum += over_batch_effect(of_score, 0, 1).value;
    }
    for (const int method : methods) {
      const auto of_logit = [&](double logit) { return of_method(method, all, logit); };
      sum += over_batch_effect(of_logit, at.share_logit, method_spread).value;
    }
    return sum;
  }

  struct Other {
    RateCurve curve;
    double batch_spread;
  };
  [[nodiscard]] double spread_of(std::size_t of_share) const {
    return of_share == 0 ? batch_spread : others[of_share - 1].batch_spread;
  }

  RateCurve share;
  double batch_spread, method_spread;
  std::vector<Other> others;
  LogNormal time, spread;
  std::optional<LogNormal> delay, half_life;
  std::vector<BatchSeen> seen;
  std::set<int> methods;
};

CureFit::CureFit(const CureBelief& belief, std::vector<BatchSeen> batches)
    : model_(std::make_shared<const Model>(belief, std::move(batches))) {
  posterior_ = std::make_shared<const Posterior>(
      model_->dimensions(), [model = model_](const ScorePoint& scores) { return model->log_likelihood(scores); });
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
  return drawn_effect(model_->terms_of(seen, point(scores)), method_logit + seen.offset, model_->spread_of(seen.share),
                      normal);
}

CureFit::OtherShare CureFit::other_share(std::size_t share, const ScorePoint& scores, double normal) const {
  const std::vector<ShareTerms> all = model_->terms(point(scores));
  const auto of_score = [&](double score) { return model_->of_other(share, all, score); };
  const LogitDraw drawn = drawn_effect(of_score, 0, 1, normal);
  return {drawn.logit, model_->others[share - 1].curve.logit(drawn.logit), drawn.log_weight};
}

double CureFit::chance_of_waiting(std::size_t batch, const CurePoint& at, double logit) const {
  return model_->terms_of(model_->seen[batch], at).chance_of_waiting(logit);
}

}  // namespace strikebed::evidence
