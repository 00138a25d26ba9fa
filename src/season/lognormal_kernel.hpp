#pragma once
// The inner loop of the season: how many of a cohort have had warmth enough, for many days at once.
#include <span>

namespace strikebed::season {

/// out[i] = share of a log-normal population with demand below warmth[i]: Phi((ln x - log_median) / spread); 0 for x <=
/// 0.
///   spread > 0; out and warmth have one length and do not overlap
/// Single precision, branch-free, so that the compiler turns it into vector code of whatever width the machine has; the
/// operations and their order are the same at every width, so the numbers are too.
/// Accuracy: within 2e-6 of the double-precision value (tests/season/lognormal_kernel_test.cpp).
/// Source: Abramowitz & Stegun 1964, 7.1.28 for erfc (coefficients from memory; the test compares with std::erfc).
void lognormal_shares(std::span<const float> warmth, float log_median, float spread, std::span<float> out);

/// One of them, plainly.
[[nodiscard]] float lognormal_share(float warmth, float log_median, float spread);

/// Phi(z) by the same formula.
[[nodiscard]] float quick_normal_share(float z);

}  // namespace strikebed::season
