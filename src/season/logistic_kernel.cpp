#include "season/logistic_kernel.hpp"

#include <bit>
#include <cstdint>

#include "base/widest_vectors.hpp"

namespace strikebed::season {
namespace {

/// exp(x) for -80 <= x <= 80: 2^k by the exponent's bits, the rest, within ln 2 / 2 of 0, by the Taylor series to
/// degree 6, whose next term is at most 1.2e-7 of the result.
inline float exponential(float x) {
  constexpr float kRounding = 12582912.0F;  // 1.5 x 2^23: adding it leaves a whole number in the last bits
  const float shifted = x * 1.44269504F + kRounding;
  const float k = shifted - kRounding;
  const float r = (x - k * 0.693359375F) + k * 2.12194440e-4F;  // ln 2 in two parts
  const float r2 = r * r;
  const float series =
      (1 + r) + r2 * ((0.5F + r * 0.16666667F) + r2 * ((0.041666667F + r * 0.0083333333F) + r2 * 0.0013888889F));
  const std::int32_t scale = (std::bit_cast<std::int32_t>(shifted) - std::bit_cast<std::int32_t>(kRounding) + 127)
                             << 23;
  return series * std::bit_cast<float>(scale);
}

inline float share(float logit) {
  constexpr float kFarOut = 80;  // beyond, the share is 0 or 1 in single precision
  float x = -logit;
  x = x > kFarOut ? kFarOut : x;
  x = x < -kFarOut ? -kFarOut : x;
  return 1 / (1 + exponential(x));
}

}  // namespace

STRIKEBED_WIDEST_VECTORS
void logistic_shares(std::span<float> logits) {
  float* const x = logits.data();
  const std::size_t n = logits.size();
  for (std::size_t i = 0; i < n; ++i) x[i] = share(x[i]);
}

float logistic_share(float logit) { return share(logit); }

}  // namespace strikebed::season
