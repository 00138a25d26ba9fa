#include "evidence/cure_model.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "evidence/batch_effect.hpp"
#include "evidence/effect_maps.hpp"
#include "evidence/normal_points.hpp"
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
        time(belief.time),
        spread(belief.spread),
        seen(std::move(batches)) {
    if (belief.delay) delay.emplace(*belief.delay);
    if (belief.failure_half_life) half_life.emplace(*belief.failure_half_life);
    tells_anything = std::ranges::any_of(seen, [](const BatchSeen& batch) { return batch.tells_anything(); });
    for (const RateBelief& other : belief.others) others.push_back({RateCurve(other), other.batch_spread.value_or(0)});
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
    for (std::size_t i = 0; i < seen.size(); ++i) {
      if (seen[i].share == 0) sum += over_batch_effect(all[i], at.share_logit + seen[i].offset, batch_spread).value;
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
  /// Of a share, at its score.
  [[nodiscard]] double logit_of(std::size_t of_share, double score) const {
    return of_share == 0 ? share.logit(score) : others[of_share - 1].curve.logit(score);
  }

  RateCurve share;
  double batch_spread;
  std::vector<Other> others;
  LogNormal time, spread;
  std::optional<LogNormal> delay, half_life;
  std::vector<BatchSeen> seen;
  bool tells_anything;
};

/// Where to draw other shares and batches from.
struct CureFit::Effects {
  Effects(const Model& model, const Posterior& posterior) {
    std::vector<ScorePoint> at;
    std::vector<std::vector<ShareTerms>> terms;
    for (const ScorePoint& normal : normal_points(kMostScores, kLog2Probes)) {
      at.push_back(posterior.proposed(normal).scores);
      terms.push_back(model.terms(model.point(at.back())));
    }
    std::vector<std::vector<BatchEffect>> of_others;
    for (std::size_t share = 0; share <= model.others.size(); ++share) {
      std::vector<ScorePoint> own = at;
      if (share > 0) {
        of_others.emplace_back();
        for (std::size_t k = 0; k < at.size(); ++k) {
          const auto of_score = [&](double score) { return model.of_other(share, terms[k], score); };
          const BatchEffect effect = batch_effect(of_score, 0, 1);
          own[k][kShare] = effect.mean + spread_evenly(k) * effect.sd;
          of_others.back().push_back(effect);
        }
      }
      batches.push_back(maps_of_batches(model, share, own, terms));
    }
    others.emplace(dimensions(model), at, of_others);
  }

  std::optional<EffectMaps> others;  ///< [other share], of its score
  std::vector<EffectMaps> batches;   ///< [share][batch of it], with the share's own score in place of the first one's

 private:
  static std::size_t dimensions(const Model& model) { return static_cast<std::size_t>(model.dimensions()); }
  /// Of those of one share; none where its batches do not differ.
  static EffectMaps maps_of_batches(const Model& model, std::size_t share, const std::vector<ScorePoint>& own,
                                    const std::vector<std::vector<ShareTerms>>& terms) {
    const double spread = model.spread_of(share);
    std::vector<std::vector<BatchEffect>> effects;
    for (std::size_t i = 0; i < model.seen.size(); ++i) {
      if (model.seen[i].share != share || spread == 0) continue;
      effects.emplace_back();
      for (std::size_t k = 0; k < own.size(); ++k) {
        const double common = model.logit_of(share, own[k][kShare]) + model.seen[i].offset;
        effects.back().push_back(batch_effect(terms[k][i], common, spread));
      }
    }
    return {dimensions(model), own, effects};
  }
  /// A standard normal number for the k-th probe that has nothing to do with its scores.
  static double spread_evenly(std::size_t k) {
    static const std::vector<float> scores = shuffled_normal_scores(1, kLog2Probes, 1, 0x07e5);
    return static_cast<double>(scores[k]);
  }
};

CureFit::CureFit(const CureBelief& belief, std::vector<BatchSeen> batches)
    : model_(std::make_shared<const Model>(belief, std::move(batches))),
      posterior_(std::make_shared<const Posterior>(
          model_->dimensions(), [model = model_](const ScorePoint& scores) { return model->log_likelihood(scores); })),
      effects_(std::make_shared<const Effects>(*model_, *posterior_)) {}

CurePoint CureFit::point(const ScorePoint& scores) const { return model_->point(scores); }

double CureFit::log_likelihood(const ScorePoint& scores) const { return model_->log_likelihood(scores); }

CureDraw CureFit::draw(const ScorePoint& normal, std::span<const double> of_others,
                       std::span<const double> of_batches) const {
  // Where nothing was seen, nothing is moved.
  const bool moved = model_->tells_anything;
  const auto [scores, log_weight] = moved ? posterior_->proposed(normal) : WeightedPoint{normal, 0};
  const std::size_t batches = model_->seen.size();
  CureDraw draw{.scores = scores,
                .others = {},
                .logits = std::vector<double>(batches),
                .effects = std::vector<double>(batches),
                .chance_of_waiting = std::vector<double>(batches),
                .log_weight = log_weight};
  const CurePoint at = point(scores);
  const Terms of_scores = effects_->others->terms(scores);
  for (std::size_t share = 0; share <= model_->others.size(); ++share) {
    ScorePoint own = scores;
    if (share > 0) {
      const double unit = of_others[share - 1];
      const EffectMaps::Drawn drawn =
          moved ? effects_->others->drawn(share - 1, of_scores, unit) : EffectMaps::unmoved(1, unit);
      own[kShare] = drawn.effect;
      draw.others.push_back(drawn.effect);
      draw.log_weight += log_prior_of_effect(drawn.effect, 1) - drawn.log_density;
    }
    const EffectMaps& maps = effects_->batches[share];
    const Terms terms = maps.terms(own);
    const double common = model_->logit_of(share, own[kShare]);
    const double spread = model_->spread_of(share);
    std::size_t of_share = 0;
    for (std::size_t i = 0; i < batches; ++i) {
      const BatchSeen& seen = model_->seen[i];
      if (seen.share != share) continue;
      if (spread > 0) {
        const EffectMaps::Drawn drawn =
            moved ? maps.drawn(of_share++, terms, of_batches[i]) : EffectMaps::unmoved(spread, of_batches[i]);
        draw.effects[i] = drawn.effect;
        draw.log_weight += log_prior_of_effect(drawn.effect, spread) - drawn.log_density;
      }
      draw.logits[i] = common + seen.offset + draw.effects[i];
      const ShareTerms of_batch = model_->terms_of(seen, at);
      draw.log_weight += of_batch(draw.logits[i]).value;
      draw.chance_of_waiting[i] = of_batch.chance_of_waiting(draw.logits[i]);
    }
  }
  return draw;
}

}  // namespace strikebed::evidence
