#pragma once
// A few unknowns as standard normal scores.
#include <array>
#include <cstddef>

namespace strikebed::evidence {

inline constexpr int kMostScores = 4;
/// Those beyond the dimensions of what is fitted are 0.
using ScorePoint = std::array<double, kMostScores>;

}  // namespace strikebed::evidence
