#pragma once
// Do the replicates of a germination test differ by more than luck?

namespace strikebed::evidence {

/// Chance that the largest and the smallest count of `replicates` (>= 1) dishes of `seeds` (>= 1) each differ by at
/// most `range` seeds, when every seed germinates with the same share (0 to 1). Exact.
/// Source: the binomial distribution of a range; idea of Miles 1963, Proc. Int. Seed Test. Assoc. 28:525-686.
[[nodiscard]] double chance_range_at_most(int range, int replicates, int seeds, double share);

/// The smallest range that is exceeded by luck alone with chance `risk` (in (0, 1)) at most: replicates further apart
/// than this were not treated alike, and the test should be repeated.
[[nodiscard]] int tolerated_range(int replicates, int seeds, double share, double risk);

}  // namespace strikebed::evidence
