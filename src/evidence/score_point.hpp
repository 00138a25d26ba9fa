#pragma once
// A few unknowns as standard normal scores.
#include <algorithm>
#include <array>
#include <cstddef>

namespace strikebed::evidence {

inline constexpr int kMostScores = 4;
/// Those beyond the dimensions of what is fitted are 0.
using ScorePoint = std::array<double, kMostScores>;

/// Where some points of scores lie and how far they spread: for what is fitted to them and not to be trusted far off.
struct ScoreScale {
  static constexpr double kFarthest = 3;
  ScorePoint centre{}, width{};

  /// One of the scores in these widths from the centre, held within +-kFarthest.
  [[nodiscard]] double standardised(std::size_t which, double score) const {
    return std::clamp((score - centre[which]) / width[which], -kFarthest, kFarthest);
  }
  /// The first so many; the others are 0.
  [[nodiscard]] ScorePoint standardised(const ScorePoint& scores, std::size_t count) const {
    ScorePoint all{};
    for (std::size_t i = 0; i < count; ++i) all[i] = standardised(i, scores[i]);
    return all;
  }
};

}  // namespace strikebed::evidence
