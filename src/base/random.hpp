#pragma once
// Random numbers that depend only on where they are used, never on the order in which threads ask.
#include <cmath>
#include <cstdint>
#include <numbers>
#include <string_view>

namespace strikebed {

/// The finaliser of SplitMix64: bits well mixed.
[[nodiscard]] constexpr std::uint64_t mixed_bits(std::uint64_t x) {
  x += 0x9e3779b97f4a7c15ULL;
  x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ULL;
  x = (x ^ (x >> 27)) * 0x94d049bb133111ebULL;
  return x ^ (x >> 31);
}

/// 64 well-mixed bits from a seed and up to three counters (the finaliser of SplitMix64, Steele, Lea & Flood 2014,
/// applied after each counter). The same arguments always give the same bits.
[[nodiscard]] std::uint64_t random_bits(std::uint64_t seed, std::uint64_t a, std::uint64_t b = 0, std::uint64_t c = 0);

/// The same in two steps, for many numbers that differ only in the last counter:
/// random_bits(seed, a, b, c) == random_bits_of(random_stream(seed, a, b), c).
[[nodiscard]] std::uint64_t random_stream(std::uint64_t seed, std::uint64_t a, std::uint64_t b);
[[nodiscard]] constexpr std::uint64_t random_bits_of(std::uint64_t stream, std::uint64_t c) {
  return mixed_bits(stream ^ c);
}

/// 64 well-mixed bits from a name, the same on every machine; 0 for no name.
[[nodiscard]] std::uint64_t name_bits(std::string_view name);

/// A uniform number in the open interval (0, 1), 53 bits.
[[nodiscard]] double random_uniform(std::uint64_t seed, std::uint64_t a, std::uint64_t b = 0, std::uint64_t c = 0);

/// A standard normal number: the quantile of random_uniform, |error| < 1e-9 (Acklam's rational approximation with one
/// Halley step).
[[nodiscard]] double random_normal(std::uint64_t seed, std::uint64_t a, std::uint64_t b = 0, std::uint64_t c = 0);

/// Standard normal quantile of p in (0, 1), same method and accuracy.
[[nodiscard]] double normal_quantile(double p);

/// The same without the Halley step, which costs an erfc and an exp: relative error below 1.2e-9.
[[nodiscard]] double quick_normal_quantile(double p);

/// Standard normal distribution function within 3e-7, a third of the time of the next: erfc by Abramowitz & Stegun
/// 1964, 7.1.28. Here, so that loops over it become vectors.
[[nodiscard]] inline double quick_normal_share_below(double z) {
  const double a = std::abs(z) / std::numbers::sqrt2;
  double d =
      1 + a * (0.0705230784 +
               a * (0.0422820123 + a * (0.0092705272 + a * (0.0001520143 + a * (0.0002765672 + a * 0.0000430638)))));
  d *= d;
  d *= d;
  d *= d;
  d *= d;
  return z < 0 ? 0.5 / d : 1 - 0.5 / d;
}

/// Standard normal distribution function, by std::erfc.
[[nodiscard]] double normal_share_below(double z);

}  // namespace strikebed
