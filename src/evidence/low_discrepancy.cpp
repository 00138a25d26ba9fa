#include "evidence/low_discrepancy.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdlib>
#include <numeric>
#include <utility>

#include "base/random.hpp"
#include "evidence/sobol_numbers.hpp"

namespace strikebed::evidence {
namespace {

constexpr int kMostLog2Points = 16;
/// v_1, v_2, ... of one dimension, binary fractions in 64 bits.
using Directions = std::array<std::uint64_t, kMostLog2Points>;

/// Bratley & Fox 1988, ACM Trans. Math. Softw. 14:88-100, section 2.
std::vector<Directions> sobol_directions(std::size_t dimensions) {
  if (dimensions > kMostDimensions) std::abort();  // a programming mistake
  std::vector<Directions> all(dimensions);
  const std::uint16_t* numbers = kSobolNumbers.data();
  for (std::size_t d = 0; d < dimensions; ++d) {
    Directions m;
    m.fill(1);
    if (d > 0) {
      const unsigned polynomial = *numbers++;
      const auto degree = static_cast<std::size_t>(std::bit_width(polynomial)) - 1;
      std::copy_n(numbers, std::min(degree, m.size()), m.begin());
      numbers += degree;
      for (std::size_t j = degree; j < m.size(); ++j) {
        m[j] = m[j - degree];
        for (std::size_t k = 0; k < degree; ++k) {
          if ((polynomial >> k & 1U) != 0) m[j] ^= m[j - degree + k] << (degree - k);
        }
      }
    }
    for (std::size_t j = 0; j < m.size(); ++j) all[d][j] = m[j] << (63 - j);
  }
  return all;
}

}  // namespace

ShiftedNets::ShiftedNets(int dimensions, int replicates, int log2_points, std::uint64_t seed)
    : replicates_(replicates),
      points_(std::size_t{1} << log2_points),
      seed_(seed),
      net_(static_cast<std::size_t>(dimensions), std::vector<std::uint64_t>(points_)) {
  const std::vector<Directions> directions = sobol_directions(net_.size());
  for (std::size_t d = 0; d < net_.size(); ++d) {
    for (std::size_t p = 1; p < points_; ++p) {  // point 0 is the origin; then in the order of the Gray code
      net_[d][p] = net_[d][p - 1] ^ directions[d][static_cast<std::size_t>(std::countr_zero(p))];
    }
  }
}

std::vector<float> ShiftedNets::normal_scores(std::size_t dimension, std::uint64_t shift) const {
  constexpr std::uint64_t kShifts = 0x50b01;
  std::vector<float> scores;
  scores.reserve(static_cast<std::size_t>(replicates_) * points_);
  for (int r = 0; r < replicates_; ++r) {
    const std::uint64_t by = random_bits(seed_, kShifts ^ shift, dimension, static_cast<std::uint64_t>(r));
    for (const std::uint64_t point : net_[dimension]) {
      const double u = (static_cast<double>((point ^ by) >> 11) + 0.5) * 0x1p-53;
      scores.push_back(static_cast<float>(quick_normal_quantile(u)));
    }
  }
  return scores;
}

std::vector<std::vector<float>> normal_scores(int dimensions, int replicates, int log2_points, std::uint64_t seed) {
  const ShiftedNets nets(dimensions, replicates, log2_points, seed);
  std::vector<std::vector<float>> scores;
  for (std::size_t d = 0; d < static_cast<std::size_t>(dimensions); ++d) scores.push_back(nets.normal_scores(d));
  return scores;
}

std::vector<float> shuffled_normal_scores(int replicates, int log2_points, std::uint64_t seed, std::uint64_t stream) {
  const std::size_t points = std::size_t{1} << log2_points;
  std::vector<float> scores(static_cast<std::size_t>(replicates) * points);
  std::vector<std::size_t> order(points);
  for (std::size_t r = 0; r < static_cast<std::size_t>(replicates); ++r) {
    const std::uint64_t swaps = random_stream(seed, stream, 2 * r);
    const std::uint64_t places = random_stream(seed, stream, 2 * r + 1);
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (std::size_t p = points - 1; p > 0; --p) std::swap(order[p], order[random_bits_of(swaps, p) % (p + 1)]);
    for (std::size_t p = 0; p < points; ++p) {
      const double within = (static_cast<double>(random_bits_of(places, p) >> 11) + 0.5) * 0x1p-53;
      const double share = (static_cast<double>(order[p]) + within) / static_cast<double>(points);
      scores[r * points + p] = static_cast<float>(quick_normal_quantile(share));
    }
  }
  return scores;
}

}  // namespace strikebed::evidence
