#include "evidence/effect_maps.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace strikebed::evidence {
namespace {

constexpr double kFarthest = 3;  // of standardised scores: beyond, a quadratic is not to be trusted

}  // namespace

EffectMaps::EffectMaps(std::size_t scores, std::vector<ScorePoint> at)
    : scores_(scores), at_(std::move(at)), equal_(at_.size(), 1.0 / static_cast<double>(at_.size())) {
  for (std::size_t i = 0; i < scores; ++i) {
    double square = 0;
    for (const ScorePoint& point : at_) centre_[i] += point[i] / static_cast<double>(at_.size());
    for (const ScorePoint& point : at_) square += std::pow(point[i] - centre_[i], 2) / static_cast<double>(at_.size());
    scale_[i] = std::sqrt(square) + 1e-9;
  }
  for (const ScorePoint& point : at_) terms_.push_back(terms(point));
}

void EffectMaps::add(std::span<const BatchEffect> effects) {
  std::vector<double> mean;
  std::vector<double> log_sd;
  for (const BatchEffect& effect : effects) {
    mean.push_back(effect.mean);
    log_sd.push_back(std::log(std::max(effect.sd, 1e-9)));
  }
  const LeastSquares fit(terms_, equal_, terms_of(scores_));
  maps_.push_back({fit(mean), fit(log_sd)});
}

Terms EffectMaps::terms(const ScorePoint& scores) const {
  ScorePoint standardised{};
  for (std::size_t i = 0; i < scores_; ++i) {
    standardised[i] = std::clamp((scores[i] - centre_[i]) / scale_[i], -kFarthest, kFarthest);
  }
  return terms_at(standardised, scores_);
}

EffectMaps::Drawn EffectMaps::drawn(std::size_t which, const Terms& terms, double normal) const {
  const Map& map = maps_[which];
  const double log_sd = dot(map.log_sd, terms, terms_of(scores_));
  return {dot(map.mean, terms, terms_of(scores_)) + std::exp(log_sd) * normal, -normal * normal / 2 - log_sd};
}

EffectMaps::Drawn EffectMaps::unmoved(double spread, double normal) {
  return {spread * normal, -normal * normal / 2 - std::log(spread)};
}

}  // namespace strikebed::evidence
