// How many evaluations of the normal distribution function the thermal shares of one future take.
// src/season/offers.cpp is compiled into this program with the kernel's two names replaced (see CMakeLists.txt), so the
// declarations below are those that it calls.
#include <fmt/core.h>

#include <cmath>

#include "example_season.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {
long shares = 0;
long calls = 0;
long single_shares = 0;
}  // namespace

void lognormal_shares(std::span<const float> warmth, float log_median, float spread, std::span<float> out) {
  ++calls;
  shares += static_cast<long>(warmth.size());
  for (std::size_t i = 0; i < warmth.size(); ++i) out[i] = lognormal_share(warmth[i], log_median, spread);
}

float quick_normal_share(float z) {
  ++single_shares;
  return static_cast<float>(0.5 * std::erfc(-static_cast<double>(z) / std::sqrt(2.0)));
}

}  // namespace strikebed::season

int main() {
  using namespace strikebed;
  const benchmarks::ExampleSeason& e = benchmarks::example_season();
  (void)season::offers_of_sowing(e.chain, e.futures, e.sums, e.sessions, e.sow_day, Workers{});
  const double futures = e.futures.count();
  fmt::print("futures {}\nsessions {}\n", e.futures.count(), e.sessions.count());
  fmt::print("shares_a_future {:.0f}\nshares_a_call {:.1f}\n", static_cast<double>(season::shares) / futures,
             static_cast<double>(season::shares) / static_cast<double>(season::calls));
  fmt::print("single_shares_a_future {:.1f}\n", static_cast<double>(season::single_shares) / futures);
}
