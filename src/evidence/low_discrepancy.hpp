#pragma once
// Evenly spread points for averaging over many uncertain quantities at once.
#include <cstddef>
#include <cstdint>
#include <vector>

namespace strikebed::evidence {

inline constexpr int kMostDimensions = 160;

/// `replicates` independently shifted copies of the first 2^log2_points Sobol points in so many dimensions.
/// Each copy is a digital net on its own (a random digital shift keeps the net), so the scatter of replicate means is
/// an honest error of their mean.
/// Sources: Sobol' 1967; direction numbers of Joe & Kuo 2008; digital shift: Owen 1995, L'Ecuyer & Lemieux 2002.
class ShiftedNets {
 public:
  /// dimensions 1...kMostDimensions, replicates >= 2, log2_points 1...16
  ShiftedNets(int dimensions, int replicates, int log2_points, std::uint64_t seed);

  /// Standard normal scores of one dimension, [replicate * points + point].
  ///   shift  which shift: two shifts of one dimension are each a fair draw with the other dimensions, and unrelated
  ///          over all replicates; within a replicate one gives the other away, so they are for alternatives, or for
  ///          quantities of which how they go together matters little
  [[nodiscard]] std::vector<float> normal_scores(std::size_t dimension, std::uint64_t shift = 0) const;

 private:
  int replicates_;
  std::size_t points_;
  std::uint64_t seed_;
  std::vector<std::vector<std::uint64_t>> net_;  ///< [dimension][point]
};

/// All of one net's dimensions, as [dimension][replicate * points + point].
[[nodiscard]] std::vector<std::vector<float>> normal_scores(int dimensions, int replicates, int log2_points,
                                                            std::uint64_t seed);

/// Standard normal scores of one more quantity, [replicate * points + point]: in every replicate one in each of
/// 2^log2_points equal shares of the normal, in an order of its own (a Latin hypercube's column, McKay, Beckman &
/// Conover 1979, Technometrics 21:239-245). It depends on its stream alone, so any number of quantities can be added
/// without moving another.
[[nodiscard]] std::vector<float> shuffled_normal_scores(int replicates, int log2_points, std::uint64_t seed,
                                                        std::uint64_t stream);

}  // namespace strikebed::evidence
