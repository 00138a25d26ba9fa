#include "season/lognormal_kernel.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>

#include "base/widest_vectors.hpp"

namespace strikebed::season {
namespace {

// Polynomials are summed in pairs (Estrin): runs are short, so what counts is how soon the last term is there.

/// ln x for normal x > 0, within 1e-7 + 1e-7 |ln x|. x = m 2^e with m in [sqrt(1/2), sqrt(2)); ln m by a polynomial of
/// degree 8 in m - 1 (Chebyshev fit, largest error 6e-8).
inline float natural_log(float x) {
  const auto bits = std::bit_cast<std::int32_t>(x);
  const std::int32_t exponent = (bits - 0x3f3504f3) >> 23;
  const float s = std::bit_cast<float>(bits - (exponent << 23)) - 1;
  const float s2 = s * s;
  const float low = (1 - s * 0.50000364F) + s2 * (0.33335114F - s * 0.2497007F);
  const float high = (0.19898565F - s * 0.17247014F) + s2 * (0.16234189F - s * 0.10134057F);
  return static_cast<float>(exponent) * 0.69314718F + s * (low + s2 * s2 * high);
}

/// Phi(z) = 1 - erfc(z / sqrt 2) / 2, erfc by one polynomial, four squarings and one division.
inline float normal_share(float z) {
  const float reach = (z < 0 ? -z : z) * 0.70710678F;
  const float a = reach < 6 ? reach : 6.0F;
  const float a2 = a * a;
  const float low = (1 + a * 0.0705230784F) + a2 * (0.0422820123F + a * 0.0092705272F);
  const float high = (0.0001520143F + a * 0.0002765672F) + a2 * 0.0000430638F;
  float d = low + a2 * a2 * high;
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

/// In whole vectors, without a slow remainder: the last block reaches back over what is already there.
///   n >= kBlock
template <std::size_t kBlock>
__attribute__((always_inline)) inline void share_blocks(const float* __restrict from, float* __restrict to,
                                                        std::size_t n, float log_median, float per_spread) {
  const std::size_t whole = n - n % kBlock;
  for (std::size_t block = 0; block < whole; block += kBlock) {
    for (std::size_t i = block; i < block + kBlock; ++i) to[i] = share(from[i], log_median, per_spread);
  }
  if (whole == n) return;
  for (std::size_t i = n - kBlock; i < n; ++i) to[i] = share(from[i], log_median, per_spread);
}

}  // namespace

STRIKEBED_WIDEST_VECTORS
void lognormal_shares(std::span<const float> warmth, float log_median, float spread, std::span<float> out) {
  const float per_spread = 1 / spread;
  const std::size_t n = warmth.size();
  if (n >= 16) return share_blocks<16>(warmth.data(), out.data(), n, log_median, per_spread);
  if (n >= 8) return share_blocks<8>(warmth.data(), out.data(), n, log_median, per_spread);
  std::array<float, 8> few{};
  std::copy(warmth.begin(), warmth.end(), few.begin());
  for (float& x : few) x = share(x, log_median, per_spread);
  std::copy_n(few.begin(), n, out.begin());
}

float lognormal_share(float warmth, float log_median, float spread) { return share(warmth, log_median, 1 / spread); }
float quick_normal_share(float z) { return normal_share(z); }

}  // namespace strikebed::season
