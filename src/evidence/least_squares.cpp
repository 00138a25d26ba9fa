#include "evidence/least_squares.hpp"

#include <algorithm>
#include <vector>

namespace strikebed::evidence {

Terms terms_at(const ScorePoint& at, std::size_t scores) {
  Terms terms{1};
  std::size_t n = 1;
  for (std::size_t i = 0; i < scores; ++i) terms[n++] = at[i];
  for (std::size_t i = 0; i < scores; ++i) {
    for (std::size_t j = 0; j <= i; ++j) terms[n++] = at[i] * at[j];
  }
  return terms;
}

double dot(const Terms& coefficients, const Terms& terms, std::size_t count) {
  double sum = 0;
  for (std::size_t i = 0; i < count; ++i) sum += coefficients[i] * terms[i];
  return sum;
}

LeastSquares::LeastSquares(std::span<const Terms> points, std::span<const double> weights, std::size_t count)
    : points_(points), weights_(weights), count_(count) {
  constexpr double kLeast = 1e-6;  // so that there is a solution
  SmallMatrix normal(count);       // the lower triangle
  for (std::size_t k = 0; k < points.size(); ++k) {
    for (std::size_t i = 0; i < count; ++i) {
      const double weighted = weights[k] * points[k][i];
      for (std::size_t j = 0; j <= i; ++j) normal(i, j) += weighted * points[k][j];
    }
  }
  for (std::size_t i = 0; i < count; ++i) normal(i, i) += kLeast;
  factor_ = cholesky(normal);
}

Terms LeastSquares::operator()(std::span<const double> values) const {
  Terms right{};
  for (std::size_t k = 0; k < points_.size(); ++k) {
    const double weighted = weights_[k] * values[k];
    for (std::size_t i = 0; i < count_; ++i) right[i] += weighted * points_[k][i];
  }
  Terms coefficients{};
  if (!factor_) return coefficients;
  const std::vector<double> x = solved(*factor_, std::span(right).first(count_));
  std::copy(x.begin(), x.end(), coefficients.begin());
  return coefficients;
}

}  // namespace strikebed::evidence
