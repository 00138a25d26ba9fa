#include "evidence/gauss_hermite.hpp"

#include <Eigen/Eigenvalues>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdlib>

namespace strikebed::evidence {
namespace {

constexpr int kMostPoints = 16;

std::vector<HermitePoint> computed(int points) {
  Eigen::MatrixXd recurrence = Eigen::MatrixXd::Zero(points, points);
  for (int i = 1; i < points; ++i) recurrence(i, i - 1) = std::sqrt(i);  // the lower triangle is read
  const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solved(recurrence);
  std::vector<HermitePoint> rule;
  for (int i = 0; i < points; ++i) {
    const double first = solved.eigenvectors()(0, i);
    rule.push_back({solved.eigenvalues()[i], first * first});
  }
  return rule;
}

}  // namespace

const std::vector<HermitePoint>& gauss_hermite(int points) {
  if (points < 1 || points > kMostPoints) std::abort();  // a programming mistake
  static const std::array<std::vector<HermitePoint>, kMostPoints> rules = [] {
    std::array<std::vector<HermitePoint>, kMostPoints> all;
    for (int n = 1; n <= kMostPoints; ++n) all[static_cast<std::size_t>(n - 1)] = computed(n);
    return all;
  }();
  return rules[static_cast<std::size_t>(points - 1)];
}

}  // namespace strikebed::evidence
