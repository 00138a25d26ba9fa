#pragma once
// Quadratic functions of a few scores, by weighted least squares.
#include <array>
#include <cstddef>
#include <optional>
#include <span>

#include "evidence/score_point.hpp"
#include "evidence/small_matrix.hpp"

namespace strikebed::evidence {

/// 1, the scores, their products.
using Terms = std::array<double, (kMostScores + 1) * (kMostScores + 2) / 2>;
[[nodiscard]] constexpr std::size_t terms_of(std::size_t scores) { return (scores + 1) * (scores + 2) / 2; }
/// Of the first so many scores; the others are 0.
[[nodiscard]] Terms terms_at(const ScorePoint& at, std::size_t scores);
/// Over the first `count`.
[[nodiscard]] double dot(const Terms& coefficients, const Terms& terms, std::size_t count);

/// The fit of any values at the same points.
class LeastSquares {
 public:
  /// On the first `count` terms. points and weights outlive it.
  LeastSquares(std::span<const Terms> points, std::span<const double> weights, std::size_t count);
  /// Coefficients; those of the other terms are 0, all are where the points do not tell them apart.
  [[nodiscard]] Terms operator()(std::span<const double> values) const;

 private:
  std::span<const Terms> points_;
  std::span<const double> weights_;
  std::size_t count_;
  std::optional<SmallMatrix> factor_;
};

}  // namespace strikebed::evidence
