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

/// ln x for normal x > 0, within 1e-7 + 1e-7 |ln x|. x = m 2^e with m in [sqrt(1/2), sqrt(2)); ln m by a polynomial of
/// degree 8 in m - 1 (Chebyshev fit, largest error 6e-8).
inline float natural_log(float x) {
  const auto bits = std::bit_cast<std::int32_t>(x);
  const std::int32_t exponent = (bits - 0x3f3504f3) >> 23;
  const float s = std::bit_cast<float>(bits - (exponent << 23)) - 1;
  const float series =
      1 + s * (-0.50000364F +
               s * (0.33335114F +
                    s * (-0.2497007F + s * (0.19898565F + s * (-0.17247014F + s * (0.16234189F - s * 0.10134057F))))));
  return static_cast<float>(exponent) * 0.69314718F + s * series;
}

/// Phi(z) = 1 - erfc(z / sqrt 2) / 2, erfc by one polynomial, four squarings and one division.
inline float normal_share(float z) {
  const float reach = (z < 0 ? -z : z) * 0.70710678F;
  const float a = reach < 6 ? reach : 6.0F;
  float d = 1 + a * (0.0705230784F +
                     a * (0.0422820123F +
                          a * (0.0092705272F + a * (0.0001520143F + a * (0.0002765672F + a * 0.0000430638F)))));
  d *= d;
  d *= d;
  d *= d;
  d *= d;
  const float tail = 0.5F / d;
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
