// Counts as written down, contradictions included, and what a fit is told of them.
#include "evidence/looks.hpp"

#include <gtest/gtest.h>

#include <numeric>

namespace strikebed::evidence {
namespace {

double through(const BatchSeen& seen) {
  double sum = 0;
  for (const auto& passed : seen.passed) sum += passed.count;
  return sum;
}

TEST(Looks, RisesAreBetweenLooksAndTheRestWaits) {
  const std::vector<Look> looks{{140, 12, 50}, {100, 0, 50}, {180, 30, 50}};  // in any order
  const BatchSeen seen = batch_seen(50, looks);
  ASSERT_EQ(seen.passed.size(), 2U);
  EXPECT_EQ(seen.passed[0].after, 100);
  EXPECT_EQ(seen.passed[0].by, 140);
  EXPECT_EQ(seen.passed[0].count, 12);
  EXPECT_EQ(seen.passed[1].count, 18);
  EXPECT_EQ(seen.waiting, 20);
  EXPECT_EQ(seen.waited_by, 180);
  EXPECT_TRUE(seen.samples.empty());
}

// 40, then 36, then 38: 42 were up at some time; four more may have come and gone.
TEST(Looks, AFallTellsNothingOfAsMany) {
  const std::vector<Look> looks{{100, 40, 50}, {120, 36, 50}, {140, 38, 50}};
  const BatchSeen seen = batch_seen(50, looks);
  EXPECT_EQ(through(seen), 42);
  EXPECT_EQ(seen.passed.back().after, 100);  // they may have come up before the look that found fewer
  EXPECT_EQ(seen.waiting, 4);
}

TEST(Looks, NeverMoreThanThereIs) {
  const std::vector<Look> looks{{100, 60, 50}, {120, 10, 50}, {140, 60, 50}};
  const BatchSeen seen = batch_seen(50, looks);
  EXPECT_EQ(through(seen), 50);
  EXPECT_EQ(seen.waiting, 0);
}

TEST(Looks, LostAreApartFromThoseThatWait) {
  const std::vector<Look> looks{{200, 6, 20}, {300, 9, 20}};
  const std::vector<BatchSeen::Lost> lost{{0, 21, 2}, {21, 40, 3}};
  const BatchSeen seen = batch_seen(20, looks, lost);
  ASSERT_EQ(seen.lost.size(), 2U);
  EXPECT_EQ(seen.lost[1].count, 3);
  EXPECT_EQ(seen.waiting, 6);
  const std::vector<Look> without_lost{{200, 6, 15}};  // the lost are not looked at
  EXPECT_EQ(batch_seen(20, without_lost, lost).waiting, 9);
  const std::vector<BatchSeen::Lost> too_many{{0, 21, 10}, {21, 40, 40}};  // nine have roots: eleven at most
  EXPECT_NEAR(batch_seen(20, looks, too_many).lost[0].count, 2.2, 1e-9);
  EXPECT_EQ(batch_seen(20, looks, too_many).waiting, 0);
}

TEST(Looks, LiftedOnesAreCountedApart) {
  const std::vector<Look> looks{{300, 9, 17}};
  const std::vector<Look> lifted{{250, 1, 3}};
  const BatchSeen seen = batch_seen(20, looks, {}, lifted);
  EXPECT_EQ(seen.waiting, 8);
  ASSERT_EQ(seen.samples.size(), 1U);
  EXPECT_EQ(seen.samples[0].through, 1);
  EXPECT_EQ(seen.samples[0].of, 3);
  EXPECT_EQ(seen.samples[0].weight, 1);
}

TEST(Looks, SamplesCountAsMuchAsIsNotLookedAtAgain) {
  const std::vector<Look> looks{{100, 5, 25}, {140, 12, 25}};
  const BatchSeen seen = batch_seen(100, looks);
  ASSERT_EQ(seen.samples.size(), 2U);
  EXPECT_EQ(seen.samples[0].weight, 0.75);
  EXPECT_EQ(seen.samples[1].weight, 1);
  EXPECT_EQ(seen.waiting, 0);
  const std::vector<Look> all_too{{100, 5, 25}, {140, 50, 100}};
  EXPECT_EQ(batch_seen(100, all_too).samples[0].weight, 0.75);
}

TEST(Looks, OfASampleAsManyAreLostAsOfAll) {
  const std::vector<Look> looks{{100, 5, 20}};
  const std::vector<BatchSeen::Lost> lost{{0, 21, 20}};
  const BatchSeen seen = batch_seen(100, looks, lost);
  EXPECT_EQ(seen.samples[0].of, 25);  // 20 of 80, and 5 of the 20 lost
  EXPECT_TRUE(seen.lost.empty());
}

TEST(Looks, NothingSeenTellsNothing) {
  const std::vector<BatchSeen::Lost> lost{{0, 21, 3}};
  const BatchSeen seen = batch_seen(50, {}, lost);
  EXPECT_TRUE(seen.passed.empty());
  EXPECT_TRUE(seen.samples.empty());
  EXPECT_TRUE(seen.lost.empty());
  EXPECT_EQ(seen.waiting, 0);
  const std::vector<Look> none_there{{100, 0, 0}};
  EXPECT_EQ(batch_seen(0, none_there).waiting, 0);
}

}  // namespace
}  // namespace strikebed::evidence
