#pragma once
// Evenly spread standard normal points for the draws of a posterior.
#include <vector>

#include "evidence/low_discrepancy.hpp"
#include "evidence/score_point.hpp"

namespace strikebed::evidence {

/// 2^log2_points of them, in two shifted nets; log2_points >= 2. Scores beyond the dimensions are 0.
[[nodiscard]] inline std::vector<ScorePoint> normal_points(int dimensions, int log2_points, std::uint64_t seed = 1) {
  const auto scores = normal_scores(dimensions, 2, log2_points - 1, seed);
  std::vector<ScorePoint> points(std::size_t{1} << log2_points);
  for (std::size_t d = 0; d < scores.size(); ++d) {
    for (std::size_t k = 0; k < points.size(); ++k) points[k][d] = static_cast<double>(scores[d][k]);
  }
  return points;
}

}  // namespace strikebed::evidence
