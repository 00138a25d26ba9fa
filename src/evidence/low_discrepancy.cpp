#include "evidence/low_discrepancy.hpp"

#include <boost/random/sobol.hpp>
#include <numeric>
#include <utility>

#include "base/random.hpp"

namespace strikebed::evidence {

ShiftedNets::ShiftedNets(int dimensions, int replicates, int log2_points, std::uint64_t seed)
    : replicates_(replicates),
      points_(std::size_t{1} << log2_points),
      seed_(seed),
      net_(static_cast<std::size_t>(dimensions), std::vector<std::uint64_t>(points_)) {
  boost::random::sobol sobol(net_.size());
  for (std::size_t p = 1; p < points_; ++p) {  // point 0 is the origin
    for (auto& dimension : net_) dimension[p] = sobol();
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
