// How many evaluations of the normal distribution function the thermal shares of one future take.
// src/season/offers.cpp is compiled into this program with the kernel's name replaced (see CMakeLists.txt), so that the
// function below is the one that it calls.
#include <fmt/core.h>

#include "example_season.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {
long shares = 0;
long calls = 0;
}  // namespace

void lognormal_shares(std::span<const float> warmth, float log_median, float spread, std::span<float> out) {
  ++calls;
  shares += static_cast<long>(warmth.size());
  for (std::size_t i = 0; i < warmth.size(); ++i) out[i] = lognormal_share(warmth[i], log_median, spread);
}

}  // namespace strikebed::season

int main() {
  using namespace strikebed;
  const benchmarks::ExampleSeason& e = benchmarks::example_season();
  (void)season::offers_of_sowing(e.timings, e.futures, e.sums(), e.setting.sessions, e.sow_day, Workers{});
  fmt::print("futures {}\nshares_a_future {:.0f}\nshares_a_call {:.1f}\n", e.futures.count(),
             static_cast<double>(season::shares) / e.futures.count(),
             static_cast<double>(season::shares) / static_cast<double>(season::calls));
}
