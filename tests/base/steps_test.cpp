// Long work in steps: taken one at a time, nested, and left half way.
#include "base/steps.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace strikebed {
namespace {

Steps<int> count(int from, int to) {
  for (int i = from; i < to; ++i) co_yield i;
}

Steps<int> nested(int depth) {
  co_yield depth;
  if (depth > 0) co_yield nested(depth - 1);
  co_yield count(0, 0);
  co_yield -depth;
}

std::vector<int> all_of(Steps<int> steps) {
  std::vector<int> said;
  while (steps.next()) said.push_back(steps.said());
  EXPECT_FALSE(steps.next());
  return said;
}

// Covers: steps in the place of a step, those that say nothing, and deep ones.
TEST(Steps, TakesOthersInItsPlace) {
  EXPECT_EQ(all_of(count(3, 6)), (std::vector{3, 4, 5}));
  EXPECT_EQ(all_of(count(0, 0)), std::vector<int>{});
  EXPECT_EQ(all_of(nested(2)), (std::vector{2, 1, 0, 0, -1, -2}));
}

Steps<int> holds(int& alive) {
  struct Life {
    int& alive;
    explicit Life(int& count) : alive(count) { ++alive; }
    ~Life() { --alive; }
  } life(alive);
  co_yield 1;
  co_yield 2;
}

Steps<int> around(int& alive) {
  co_yield holds(alive);
  co_yield 3;
}

// Covers: work left half way is cleared away, the nested too.
TEST(Steps, CanBeLeftHalfWay) {
  int alive = 0;
  {
    Steps<int> steps = around(alive);
    ASSERT_TRUE(steps.next());
    EXPECT_EQ(alive, 1);
  }
  EXPECT_EQ(alive, 0);
}

}  // namespace
}  // namespace strikebed
