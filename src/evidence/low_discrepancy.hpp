#pragma once
// Evenly spread points for averaging over many uncertain quantities at once.
#include <cstdint>
#include <vector>

namespace strikebed::evidence {

/// Standard normal scores of `replicates` independently shifted copies of the first 2^log2_points Sobol points in
/// `dimensions` dimensions, as [dimension][replicate * points + point].
/// Each copy is a digital net on its own (a random digital shift keeps the net), so the scatter of replicate means is
/// an honest error of their mean.
///   dimensions 1...200, replicates >= 2, log2_points 1...16
/// Sources: Sobol' 1967; direction numbers of Joe & Kuo 2008 as shipped with Boost.Random; digital shift: Owen 1995,
/// L'Ecuyer & Lemieux 2002.
[[nodiscard]] std::vector<std::vector<float>> normal_scores(int dimensions, int replicates, int log2_points,
                                                            std::uint64_t seed);

}  // namespace strikebed::evidence
