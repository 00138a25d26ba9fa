#pragma once
// Counting out of a number when the rate itself is only believed: a binomial whose share is drawn from a Beta.
#include <optional>

namespace strikebed::evidence {

// For each: alpha, beta > 0 are the Beta's parameters; wanted, number are whole seeds or plants, >= 0.
// Source: Skellam 1948, J. R. Stat. Soc. B 10:257-261. docs/methods/planning.md

/// Chance of at least `wanted` good ones out of `number`. 1 for wanted == 0, 0 for wanted > number. Relative error
/// below 1e-10 for numbers up to 100,000 and chances above 1e-290; time proportional to `number`.
[[nodiscard]] double beta_binomial_at_least(int wanted, int number, double alpha, double beta);

struct CountMoments {
  double mean;
  double variance;
};
/// Mean and variance of the count of good ones out of `number`.
[[nodiscard]] CountMoments beta_binomial_moments(int number, double alpha, double beta);

/// The smallest number out of which at least `wanted` are good with chance `assurance` (in (0, 1)) or more; nothing if
/// even `at_most` is not enough.
[[nodiscard]] std::optional<int> beta_binomial_smallest_number(int wanted, double assurance, double alpha, double beta,
                                                               int at_most = 1'000'000);

}  // namespace strikebed::evidence
