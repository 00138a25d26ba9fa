#include "evidence/low_discrepancy.hpp"

#include <boost/random/sobol.hpp>

#include "base/random.hpp"

namespace strikebed::evidence {

std::vector<std::vector<float>> normal_scores(int dimensions, int replicates, int log2_points, std::uint64_t seed) {
  const int points = 1 << log2_points;
  const auto width = static_cast<std::size_t>(dimensions);
  boost::random::sobol sobol(width);
  std::vector<std::uint64_t> net(width * static_cast<std::size_t>(points));
  for (std::size_t i = width; i < net.size(); ++i) net[i] = sobol();  // point 0 is the origin
  std::vector<std::vector<float>> scores(
      width, std::vector<float>(static_cast<std::size_t>(replicates) * static_cast<std::size_t>(points)));
  for (std::size_t d = 0; d < width; ++d) {
    for (int r = 0; r < replicates; ++r) {
      const std::uint64_t shift = random_bits(seed, 0x50b01, d, static_cast<std::uint64_t>(r));
      for (int p = 0; p < points; ++p) {
        const std::uint64_t bits = net[static_cast<std::size_t>(p) * width + d] ^ shift;
        const double u = (static_cast<double>(bits >> 11) + 0.5) * 0x1p-53;
        scores[d][static_cast<std::size_t>(r) * static_cast<std::size_t>(points) + static_cast<std::size_t>(p)] =
            static_cast<float>(quick_normal_quantile(u));
      }
    }
  }
  return scores;
}

}  // namespace strikebed::evidence
