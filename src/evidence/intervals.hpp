#pragma once
// How well a share is known after `good` of `of` were counted: three intervals with different promises.
#include "base/result.hpp"

namespace strikebed::evidence {

struct Interval {
  double low;
  double high;
};

// For each: good and of in whole plants or seeds, 0 <= good <= of, of >= 1; level in (0, 1), e.g. 0.95, central.
// Error: any of these not so. The interval is exactly 0 at its low end when good == 0 and 1 at its high end when
// good == of.

/// Never covers the true share less often than `level` says, at the price of being wide ("exact").
/// Source: Clopper & Pearson 1934, Biometrika 26:404-413.
[[nodiscard]] Result<Interval> clopper_pearson(double good, double of, double level);

/// Covers the true share about as often as `level` says, also for few plants; the one to show to a grower.
/// Source: Wilson 1927, J. Am. Stat. Assoc. 22:209-212, no continuity correction.
[[nodiscard]] Result<Interval> wilson(double good, double of, double level);

/// Equal-tailed interval of Beta(good + 1/2, of - good + 1/2), opened to 0 and 1 at the ends.
/// Source: Brown, Cai & DasGupta 2001, Statistical Science 16:101-133.
[[nodiscard]] Result<Interval> jeffreys(double good, double of, double level);

}  // namespace strikebed::evidence
