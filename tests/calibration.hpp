#pragma once
// Simulation-based calibration: is the truth found where a posterior says, over many invented cases?
// Sources: Talts et al. 2018, arXiv:1804.06788 (ranks of the truth are uniform when it was drawn from the prior);
// Gneiting & Raftery 2007, J. Am. Stat. Assoc. 102:359-378 (CRPS).
#include <algorithm>
#include <cmath>
#include <span>
#include <utility>
#include <vector>

namespace strikebed::testing_support {

/// The share of a posterior's weight below the truth, a draw equal to it counting half: its rank, from 0 to 1. Weights
/// sum to 1.
inline double rank_of(double truth, std::span<const double> draws, std::span<const double> weights) {
  double below = 0;
  for (std::size_t k = 0; k < draws.size(); ++k) {
    if (draws[k] < truth) below += weights[k];
    if (draws[k] == truth) below += weights[k] / 2;
  }
  return below;
}

/// Continuous ranked probability score: E|X - truth| - E|X - X'| / 2. Smaller is better, in the unit of the truth.
inline double crps(double truth, std::span<const double> draws, std::span<const double> weights) {
  std::vector<std::pair<double, double>> sorted;
  for (std::size_t k = 0; k < draws.size(); ++k) sorted.emplace_back(draws[k], weights[k]);
  std::sort(sorted.begin(), sorted.end());
  double off = 0;
  double between = 0;  // E|X - X'|: twice the integral of F (1 - F)
  double below = 0;
  for (std::size_t k = 0; k < sorted.size(); ++k) {
    off += sorted[k].second * std::fabs(sorted[k].first - truth);
    below += sorted[k].second;
    if (k + 1 < sorted.size()) between += 2 * below * (1 - below) * (sorted[k + 1].first - sorted[k].first);
  }
  return off - between / 2;
}

/// The share of ranks within the central range of this level.
inline double coverage(std::span<const double> ranks, double level) {
  const auto within = [level](double rank) { return std::fabs(rank - 0.5) <= level / 2; };
  return static_cast<double>(std::count_if(ranks.begin(), ranks.end(), within)) / static_cast<double>(ranks.size());
}

/// Kolmogorov's test that ranks are uniform: the chance of a largest distance as large as theirs or larger, by the
/// limiting distribution with Stephens's correction for few (1970, J. R. Stat. Soc. B 32:115-122; within 1 % from 10
/// on).
inline double uniformity_p(std::vector<double> ranks) {
  std::sort(ranks.begin(), ranks.end());
  const auto n = static_cast<double>(ranks.size());
  double distance = 0;
  for (std::size_t k = 0; k < ranks.size(); ++k) {
    const auto i = static_cast<double>(k);
    distance = std::max({distance, (i + 1) / n - ranks[k], ranks[k] - i / n});
  }
  const double x = distance * (std::sqrt(n) + 0.12 + 0.11 / std::sqrt(n));
  if (x < 0.2) return 1;
  double p = 0;
  for (int j = 1; j <= 100; ++j) p += (j % 2 == 1 ? 2 : -2) * std::exp(-2 * j * j * x * x);
  return std::clamp(p, 0.0, 1.0);
}

}  // namespace strikebed::testing_support
