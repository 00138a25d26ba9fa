#include "season/loss_clock.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include "growth/hardiness.hpp"

namespace strikebed::season {

void LossClock::read(const float* clock, const float* frost, Hardiness hardiness, int from, int to) {
  constexpr double kNothing = 1e-5;
  constexpr double kWipedOut = 1e-30;
  by_day_.clear();
  days_.clear();
  from_ = from;
  // Most futures lose nothing: a look that vectors make cheap comes first.
  std::int32_t cold = 0;
  for (int d = from; d < to; ++d) cold += growth::idle_part(clock[d + 1] - clock[d]) > 0 ? 1 : 0;
  if (frost) {
    for (int d = from; d < to; ++d) cold += frost[d] > 0 ? 1 : 0;
  }
  if (cold == 0) return;
  by_day_.reserve(static_cast<std::size_t>(to - from) + 1);
  Alive alive{1, 0};
  by_day_.push_back(alive);
  for (int d = from; d < to; ++d) {
    const float of_frost = frost ? frost[d] * hardiness.frost : 0.0F;
    const float hazard = growth::idle_part(clock[d + 1] - clock[d]) * hardiness.idle + of_frost;
    if (hazard > 0) {
      alive.share *= static_cast<double>(std::exp(-hazard));
      if (alive.share < kWipedOut) alive = {1, alive.wiped_out + 1};
      days_.push_back(d);
    }
    by_day_.push_back(alive);
  }
  if (alive.wiped_out == 0 && alive.share > 1 - kNothing) {
    by_day_.clear();
    days_.clear();
  }
}

const LossClock::Alive& LossClock::at(int day) const {
  const auto last = static_cast<int>(by_day_.size()) - 1;
  return by_day_[static_cast<std::size_t>(std::clamp(day - from_, 0, last))];
}

}  // namespace strikebed::season
