#include "evidence/effect_maps.hpp"

#include <algorithm>
#include <cmath>

namespace strikebed::evidence {

EffectMaps::EffectMaps(std::size_t scores, std::span<const ScorePoint> at,
                       std::span<const std::vector<BatchEffect>> effects)
    : scores_(scores) {
  const double equal = 1.0 / static_cast<double>(at.size());
  for (std::size_t i = 0; i < scores; ++i) {
    double square = 0;
    for (const ScorePoint& point : at) scale_.centre[i] += point[i] * equal;
    for (const ScorePoint& point : at) square += std::pow(point[i] - scale_.centre[i], 2) * equal;
    scale_.width[i] = std::sqrt(square) + 1e-9;
  }
  std::vector<Terms> points;
  for (const ScorePoint& point : at) points.push_back(terms(point));
  const std::vector<double> weights(at.size(), equal);
  const LeastSquares fit(points, weights, terms_of(scores));
  for (const std::vector<BatchEffect>& effect : effects) {
    std::vector<double> mean;
    std::vector<double> log_sd;
    for (const BatchEffect& here : effect) {
      mean.push_back(here.mean);
      log_sd.push_back(std::log(std::max(here.sd, 1e-9)));
    }
    maps_.push_back({fit(mean), fit(log_sd)});
  }
}

Terms EffectMaps::terms(const ScorePoint& scores) const {
  return terms_at(scale_.standardised(scores, scores_), scores_);
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
