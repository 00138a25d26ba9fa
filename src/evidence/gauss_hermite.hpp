#pragma once
// Averages over a standard normal number by a few well-placed points.
#include <vector>

namespace strikebed::evidence {

struct HermitePoint {
  double score;
  double weight;  ///< all of a rule sum to 1
};

/// The rule of so many points (1...16) that is exact for the mean of polynomials up to degree 2 points - 1 of a
/// standard normal number. Scores rise. Computed once for each number of points. Source: Golub & Welsch 1969, Math.
/// Comput. 23:221-230 (eigenvalues of the recurrence's matrix).
[[nodiscard]] const std::vector<HermitePoint>& gauss_hermite(int points);

}  // namespace strikebed::evidence
