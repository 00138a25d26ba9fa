#include "base/random.hpp"

#include <cmath>
#include <numbers>

namespace strikebed {

std::uint64_t random_stream(std::uint64_t seed, std::uint64_t a, std::uint64_t b) {
  return mixed_bits(mixed_bits(mixed_bits(seed) ^ a) ^ b);
}

std::uint64_t random_bits(std::uint64_t seed, std::uint64_t a, std::uint64_t b, std::uint64_t c) {
  return random_bits_of(random_stream(seed, a, b), c);
}

std::uint64_t name_bits(std::string_view name) {
  std::uint64_t bits = 0;
  for (const char letter : name) bits = mixed_bits(bits ^ static_cast<unsigned char>(letter));
  return bits;
}

double random_uniform(std::uint64_t seed, std::uint64_t a, std::uint64_t b, std::uint64_t c) {
  return (static_cast<double>(random_bits(seed, a, b, c) >> 11) + 0.5) * 0x1p-53;
}

double random_normal(std::uint64_t seed, std::uint64_t a, std::uint64_t b, std::uint64_t c) {
  return normal_quantile(random_uniform(seed, a, b, c));
}

double normal_share_below(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }

double quick_normal_quantile(double p) {
  // Coefficients: P. J. Acklam 2003, "An algorithm for computing the inverse normal cumulative distribution function"
  // (from memory; the Halley step of normal_quantile and tests/base/random_test.cpp remove any doubt).
  static constexpr double a[] = {-3.969683028665376e+01, 2.209460984245205e+02,  -2.759285104469687e+02,
                                 1.383577518672690e+02,  -3.066479806614716e+01, 2.506628277459239e+00};
  static constexpr double b[] = {-5.447609879822406e+01, 1.615858368580409e+02, -1.556989798598866e+02,
                                 6.680131188771972e+01, -1.328068155288572e+01};
  static constexpr double c[] = {-7.784894002430293e-03, -3.223964580411365e-01, -2.400758277161838e+00,
                                 -2.549732539343734e+00, 4.374664141464968e+00,  2.938163982698783e+00};
  static constexpr double d[] = {7.784695709041462e-03, 3.224671290700398e-01, 2.445134137142996e+00,
                                 3.754408661907416e+00};
  static constexpr double kTail = 0.02425;
  const auto tail = [&](double q) {
    return (((((c[0] * q + c[1]) * q + c[2]) * q + c[3]) * q + c[4]) * q + c[5]) /
           ((((d[0] * q + d[1]) * q + d[2]) * q + d[3]) * q + 1);
  };
  if (p < kTail) return tail(std::sqrt(-2 * std::log(p)));
  if (p > 1 - kTail) return -tail(std::sqrt(-2 * std::log1p(-p)));
  const double q = p - 0.5;
  const double r = q * q;
  return (((((a[0] * r + a[1]) * r + a[2]) * r + a[3]) * r + a[4]) * r + a[5]) * q /
         (((((b[0] * r + b[1]) * r + b[2]) * r + b[3]) * r + b[4]) * r + 1);
}

double normal_quantile(double p) {
  const double z = quick_normal_quantile(p);
  const double miss = normal_share_below(z) - p;
  const double step = miss * std::sqrt(2 * std::numbers::pi) * std::exp(z * z / 2);
  return z - step / (1 + z * step / 2);
}

}  // namespace strikebed
