// Intervals of a share: refusals, mirror symmetry and how they nest. Their numbers are checked against published tables
// in tests/reference/intervals.json.
#include "evidence/intervals.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace strikebed::evidence {
namespace {

using IntervalFunction = Result<Interval> (*)(double, double, double);
constexpr IntervalFunction kAll[] = {clopper_pearson, wilson, jeffreys};

TEST(Intervals, RefuseWhatIsNoCount) {
  for (const IntervalFunction interval : kAll) {
    EXPECT_FALSE(interval(0, 0, 0.95).ok());
    EXPECT_FALSE(interval(6, 5, 0.95).ok());
    EXPECT_FALSE(interval(-1, 5, 0.95).ok());
    EXPECT_FALSE(interval(2, 5, 1.0).ok());
    EXPECT_FALSE(interval(2, 5, 0.0).ok());
    EXPECT_FALSE(interval(std::nan(""), 5, 0.95).ok());
    EXPECT_FALSE(interval(2, std::nan(""), 0.95).ok());
    EXPECT_FALSE(interval(2, INFINITY, 0.95).ok());
  }
}

// Counting the bad ones instead of the good ones mirrors the interval; 1e-12 is rounding.
TEST(Intervals, MirrorWhenTheBadAreCounted) {
  for (const IntervalFunction interval : kAll) {
    for (int good = 0; good <= 12; ++good) {
      const Interval up = *interval(good, 12, 0.9);
      const Interval down = *interval(12 - good, 12, 0.9);
      EXPECT_NEAR(up.low, 1 - down.high, 1e-12);
      EXPECT_NEAR(up.high, 1 - down.low, 1e-12);
    }
  }
}

TEST(Intervals, HoldTheShareGrowWithTheLevelAndReachTheEnds) {
  for (const IntervalFunction interval : kAll) {
    for (int good = 0; good <= 20; ++good) {
      const Interval narrow = *interval(good, 20, 0.8);
      const Interval wide = *interval(good, 20, 0.99);
      EXPECT_LE(wide.low, narrow.low);
      EXPECT_GE(wide.high, narrow.high);
      EXPECT_LE(narrow.low, good / 20.0);
      EXPECT_GE(narrow.high, good / 20.0);
    }
    EXPECT_EQ(interval(0, 20, 0.95)->low, 0);
    EXPECT_EQ(interval(20, 20, 0.95)->high, 1);
  }
}

// Clopper-Pearson promises more than Jeffreys and is never inside it (Brown, Cai & DasGupta 2001).
TEST(Intervals, ExactHoldsJeffreys) {
  for (int good = 0; good <= 30; ++good) {
    const Interval exact = *clopper_pearson(good, 30, 0.95);
    const Interval middle = *jeffreys(good, 30, 0.95);
    EXPECT_LE(exact.low, middle.low);
    EXPECT_GE(exact.high, middle.high);
  }
}

}  // namespace
}  // namespace strikebed::evidence
