#pragma once
// Counts of successes among independent tries that need not all have the same chance.
#include <optional>

namespace strikebed::evidence {

/// P(X >= wanted) for a sum of independent tries with this mean and variance, by the binomial of the same mean and
/// variance (tries = mean^2 / (mean - variance), which need not be whole). Exact when all tries have one chance.
///   mean >= 0, 0 <= variance <= mean; variance == mean is the Poisson limit
/// Accuracy: within 5e-3 of the exact Poisson-binomial where the tries' chances lie within 0.4 of each other; for tries
/// that are half all but sure and half all but hopeless (0.95, 0.05) within 0.09 with 20 of them, 0.015 with 300
/// (tests/evidence/binomial_test).
[[nodiscard]] double chance_at_least(int wanted, double mean, double variance);

/// The same by the normal approximation of Peizer & Pratt 1968 (J. Am. Stat. Assoc. 63:1416-1456): within 5e-3 of
/// chance_at_least for wanted == 1, 2.5e-3 above, several times faster. For searches; answers are given by
/// chance_at_least.
[[nodiscard]] double quick_chance_at_least(int wanted, double mean, double variance);

/// The smallest number of tries, each with this chance, for which at least `wanted` successes come with probability
/// `assurance` or better; nothing when more than `limit` are needed.
[[nodiscard]] std::optional<int> smallest_number(int wanted, double chance, double assurance, int limit);

/// The count at score z (a standard normal number) of a Binomial(tries, chance): the quantile of its distribution, by
/// inversion while the variance is below 9, else by Cornish-Fisher to second order, rounded. Non-decreasing in z,
/// tries and chance (but for the change of method).
[[nodiscard]] int binomial_at_score(int tries, double chance, double score);

}  // namespace strikebed::evidence
