#include "evidence/small_matrix.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace strikebed::evidence {
namespace {

/// Rotates rows and columns p and q so that the entry between them is 0.
void rotate(SmallMatrix& m, SmallMatrix& vectors, std::size_t p, std::size_t q) {
  const double theta = (m(q, q) - m(p, p)) / (2 * m(p, q));
  const double t = (theta < 0 ? -1 : 1) / (std::fabs(theta) + std::hypot(1, theta));
  const double c = 1 / std::hypot(1, t);
  const double s = t * c;
  const auto turn = [c, s](double& a, double& b) {
    const double before = a;
    a = c * before - s * b;
    b = s * before + c * b;
  };
  for (std::size_t k = 0; k < m.rows(); ++k) turn(m(k, p), m(k, q));
  for (std::size_t k = 0; k < m.rows(); ++k) turn(m(p, k), m(q, k));
  for (std::size_t k = 0; k < m.rows(); ++k) turn(vectors(k, p), vectors(k, q));
}

}  // namespace

std::vector<double> SmallMatrix::times(std::span<const double> vector) const {
  std::vector<double> product(rows_);
  for (std::size_t i = 0; i < rows_; ++i) {
    for (std::size_t j = 0; j < rows_; ++j) product[i] += (*this)(i, j) * vector[j];
  }
  return product;
}

bool SmallMatrix::all_finite() const {
  return std::all_of(entries_.begin(), entries_.end(), [](double entry) { return std::isfinite(entry); });
}

SymmetricEigen eigen_of(SmallMatrix symmetric) {
  constexpr int kMostSweeps = 60;
  const std::size_t n = symmetric.rows();
  SymmetricEigen eigen{std::vector<double>(n), SmallMatrix(n)};
  for (std::size_t i = 0; i < n; ++i) eigen.vectors(i, i) = 1;
  for (int sweep = 0; sweep < kMostSweeps; ++sweep) {
    bool rotated = false;
    for (std::size_t p = 0; p < n; ++p) {
      for (std::size_t q = p + 1; q < n; ++q) {
        const double between = std::fabs(symmetric(p, q));
        if (between <= 1e-17 * (std::fabs(symmetric(p, p)) + std::fabs(symmetric(q, q)))) continue;
        rotate(symmetric, eigen.vectors, p, q);
        rotated = true;
      }
    }
    if (!rotated) break;
  }
  for (std::size_t i = 0; i < n; ++i) eigen.values[i] = symmetric(i, i);
  return eigen;
}

std::optional<SmallMatrix> cholesky(const SmallMatrix& symmetric) {
  const std::size_t n = symmetric.rows();
  SmallMatrix factor(n);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j <= i; ++j) {
      double rest = symmetric(i, j);
      for (std::size_t k = 0; k < j; ++k) rest -= factor(i, k) * factor(j, k);
      if (i != j) {
        factor(i, j) = rest / factor(j, j);
      } else if (rest > 0) {
        factor(i, i) = std::sqrt(rest);
      } else {
        return std::nullopt;
      }
    }
  }
  return factor;
}

std::vector<double> solved(const SmallMatrix& factor, std::span<const double> right) {
  const std::size_t n = factor.rows();
  std::vector<double> x(right.begin(), right.end());
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t k = 0; k < i; ++k) x[i] -= factor(i, k) * x[k];
    x[i] /= factor(i, i);
  }
  for (std::size_t i = n; i-- > 0;) {
    for (std::size_t k = i + 1; k < n; ++k) x[i] -= factor(k, i) * x[k];
    x[i] /= factor(i, i);
  }
  return x;
}

}  // namespace strikebed::evidence
