#include "evidence/gauss_hermite.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdlib>
#include <utility>

#include "evidence/small_matrix.hpp"

namespace strikebed::evidence {
namespace {

constexpr int kMostPoints = 16;

std::vector<HermitePoint> computed(std::size_t points) {
  SmallMatrix recurrence(points);
  for (std::size_t i = 1; i < points; ++i) {
    recurrence(i, i - 1) = recurrence(i - 1, i) = std::sqrt(static_cast<double>(i));
  }
  const SymmetricEigen eigen = eigen_of(std::move(recurrence));
  std::vector<HermitePoint> rule;
  for (std::size_t k = 0; k < points; ++k) {
    rule.push_back({eigen.values[k], eigen.vectors(0, k) * eigen.vectors(0, k)});
  }
  std::sort(rule.begin(), rule.end(), [](const HermitePoint& a, const HermitePoint& b) { return a.score < b.score; });
  return rule;
}

}  // namespace

const std::vector<HermitePoint>& gauss_hermite(int points) {
  if (points < 1 || points > kMostPoints) std::abort();  // a programming mistake
  static const std::array<std::vector<HermitePoint>, kMostPoints> rules = [] {
    std::array<std::vector<HermitePoint>, kMostPoints> all;
    for (std::size_t n = 1; n <= all.size(); ++n) all[n - 1] = computed(n);
    return all;
  }();
  return rules[static_cast<std::size_t>(points - 1)];
}

}  // namespace strikebed::evidence
