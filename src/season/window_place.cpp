#include "season/window_place.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/widest_vectors.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {

WindowPlace leave_out_closed(WindowPlace place) {
  constexpr float kAllOpen = 4;  // sds
  const float z = (1 - place.position) / std::max(place.sd, 1e-6F);
  if (z > kAllOpen) return place;
  const double density =
      std::exp(-0.5 * static_cast<double>(z) * static_cast<double>(z)) * std::numbers::inv_sqrtpi / std::numbers::sqrt2;
  const float cut = static_cast<float>(density) / std::max(quick_normal_share(z), 1e-6F);
  return {place.position - place.sd * cut, place.sd * std::sqrt(std::max(1 - cut * (z + cut), 0.0F))};
}

STRIKEBED_WIDEST_VECTORS
void add_log_odds(std::size_t n, const float* __restrict now, const float* __restrict opened,
                  const float* __restrict opened_sd, const float* __restrict closes, const float* __restrict closes_sd,
                  float edge_log_odds, float* __restrict log_odds) {
  for (std::size_t s = 0; s < n; ++s) {
    log_odds[s] +=
        mean_log_odds(place_in_window(now[s], opened[s], opened_sd[s], closes[s], closes_sd[s]), edge_log_odds);
  }
}

}  // namespace strikebed::season
