// What the cold takes of one stage, day by day, by hand.
#include "season/loss_clock.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <vector>

namespace strikebed::season {
namespace {

// Days 3 to 5 bring nothing, day 6 a quarter of a degree day; a frost of 8 doses in the night before day 4.
const std::vector<float> kClock{0, 5, 10, 15, 15, 15, 15, 15.25F, 20, 25};
const std::vector<float> kFrost{0, 0, 0, 0, 8, 0, 0, 0, 0};

TEST(LossClock, TakesByDaysStoodStillAndByFrost) {
  LossClock losses;
  losses.read(kClock.data(), kFrost.data(), {.idle = 0.01F, .frost = 0.05F}, 1, 9);
  EXPECT_FALSE(losses.takes_none());
  EXPECT_FLOAT_EQ(losses.surviving(1, 3), 1);
  EXPECT_NEAR(losses.surviving(3, 4), std::exp(-0.01), 1e-6);
  EXPECT_NEAR(losses.surviving(4, 5), std::exp(-0.01 - 0.4), 1e-6);
  EXPECT_NEAR(losses.surviving(1, 9), std::exp(-0.0375 - 0.4), 1e-6);
  EXPECT_FLOAT_EQ(losses.surviving(7, 9), 1);
  EXPECT_FLOAT_EQ(losses.surviving(6, 4), 1) << "nothing happens backwards";
}

TEST(LossClock, TakesNoneWhereItIsWarm) {
  LossClock losses;
  losses.read(kClock.data(), kFrost.data(), {.idle = 1, .frost = 1}, 3, 9);
  losses.read(kClock.data(), kFrost.data(), {.idle = 1, .frost = 1}, 0, 3);
  EXPECT_TRUE(losses.takes_none()) << "and forgets what it read before";
  EXPECT_FLOAT_EQ(losses.surviving(0, 3), 1);
  losses.read(kClock.data(), nullptr, {.idle = 0, .frost = 1}, 0, 9);
  EXPECT_TRUE(losses.takes_none()) << "standing still costs nothing, and it never freezes";
}

// However hard the winter, those that come up after it live.
TEST(LossClock, WhoComesAfterAKillingWinterLives) {
  std::vector<float> arctic(9, 0);
  arctic[2] = arctic[3] = arctic[4] = 1e30F;
  LossClock losses;
  losses.read(kClock.data(), arctic.data(), {.idle = 0.01F, .frost = 1}, 0, 9);
  EXPECT_EQ(losses.surviving(0, 9), 0);
  EXPECT_EQ(losses.surviving(0, 3), 0);
  EXPECT_EQ(losses.surviving(4, 5), 0);
  EXPECT_FLOAT_EQ(losses.surviving(0, 2), 1);
  EXPECT_NEAR(losses.surviving(5, 9), std::exp(-0.0175), 1e-6);
}

TEST(LossClock, NamesTheDaysThatTakeSome) {
  LossClock losses;
  losses.read(kClock.data(), kFrost.data(), {.idle = 0.01F, .frost = 0.05F}, 1, 9);
  EXPECT_EQ(losses.days(), (std::vector<int>{3, 4, 5, 6}));
}

}  // namespace
}  // namespace strikebed::season
