#include "season/lognormal_kernel.hpp"

#include <bit>
#include <cstdint>

// One build of the loop for each generation of x86 vectors, chosen when the program starts.
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define STRIKEBED_WIDEST_VECTORS __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default")))
#else
#define STRIKEBED_WIDEST_VECTORS
#endif

namespace strikebed::season {
namespace {

/// ln x for normal x > 0, relative error < 2e-7 where it matters. x = m 2^e with m in [sqrt(1/2), sqrt(2)).
inline float natural_log(float x) {
  const auto bits = std::bit_cast<std::int32_t>(x);
  const std::int32_t exponent = (bits - 0x3f3504f3) >> 23;
  const float m = std::bit_cast<float>(bits - (exponent << 23));
  // ln m = 2 atanh(s), s = (m - 1) / (m + 1), |s| < 0.1716: five terms of the series leave 1e-9.
  const float s = (m - 1) / (m + 1);
  const float s2 = s * s;
  const float series = 2 * s * (1 + s2 * (1.0F / 3 + s2 * (1.0F / 5 + s2 * (1.0F / 7 + s2 * (1.0F / 9)))));
  return static_cast<float>(exponent) * 0.69314718F + series;
}

/// e^x for x in [-87, 0].
inline float exponential(float x) {
  const float scaled = x * 1.44269504F;
  const float whole = static_cast<float>(static_cast<std::int32_t>(scaled - 0.5F));
  const float rest = (scaled - whole) * 0.69314718F;  // in [-0.35, 0.35]
  const float power =
      1 + rest * (1 + rest * (0.5F + rest * (1.0F / 6 + rest * (1.0F / 24 + rest * (1.0F / 120 + rest * (1.0F / 720))))));
  return power * std::bit_cast<float>((static_cast<std::int32_t>(whole) + 127) << 23);
}

inline float normal_share(float z) {
  const float reach = z < 0 ? -z : z;
  const float a = reach < 9 ? reach : 9.0F;
  const float t = 1 / (1 + 0.2316419F * a);
  const float tail =
      0.39894228F * exponential(-0.5F * a * a) * t *
      (0.31938153F + t * (-0.356563782F + t * (1.781477937F + t * (-1.821255978F + t * 1.330274429F))));
  return z < 0 ? tail : 1 - tail;
}

inline float share(float warmth, float log_median, float per_spread) {
  const float x = warmth > 1e-6F ? warmth : 1e-6F;
  return normal_share((natural_log(x) - log_median) * per_spread);
}

}  // namespace

STRIKEBED_WIDEST_VECTORS
void lognormal_shares(std::span<const float> warmth, float log_median, float spread, std::span<float> out) {
  const float per_spread = 1 / spread;
  const float* __restrict from = warmth.data();
  float* __restrict to = out.data();
  const std::size_t n = warmth.size();
  for (std::size_t i = 0; i < n; ++i) to[i] = share(from[i], log_median, per_spread);
}

float lognormal_share(float warmth, float log_median, float spread) { return share(warmth, log_median, 1 / spread); }
float quick_normal_share(float z) { return normal_share(z); }

}  // namespace strikebed::season
