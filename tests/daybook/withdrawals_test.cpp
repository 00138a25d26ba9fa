// Which entries stand, and what settling says of it.
#include "daybook/withdrawals.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "tests/daybook/making.hpp"

namespace strikebed::daybook {
namespace {

std::vector<EntryId> settled(Withdrawals& withdrawals) {
  std::vector<EntryId> changed = withdrawals.settle();
  std::ranges::sort(changed);
  return changed;
}

std::vector<EntryId> ids(std::vector<EntryId> all) {
  std::ranges::sort(all);
  return all;
}

TEST(Withdrawals, SettlingSaysWhatStandsOtherwiseThanBefore) {
  Withdrawals withdrawals;
  EXPECT_TRUE(withdrawals.stands(id(1)));
  withdrawals.add(id(2), id(1));
  EXPECT_EQ(settled(withdrawals), ids({id(1)}));
  EXPECT_TRUE(settled(withdrawals).empty());
  withdrawals.add(id(3), id(1));
  EXPECT_TRUE(settled(withdrawals).empty());
  withdrawals.add(id(4), id(2));
  EXPECT_EQ(settled(withdrawals), ids({id(2)}));
  EXPECT_FALSE(withdrawals.stands(id(1)));
  withdrawals.add(id(5), id(3));
  EXPECT_EQ(settled(withdrawals), ids({id(1), id(3)}));
  EXPECT_TRUE(withdrawals.stands(id(1)));
}

TEST(Withdrawals, ARingThatClosesIsVoid) {
  Withdrawals withdrawals;
  withdrawals.add(id(1), id(2));
  withdrawals.add(id(2), id(3));
  withdrawals.add(id(9), id(1));
  EXPECT_EQ(settled(withdrawals), ids({id(1), id(3)}));
  withdrawals.add(id(3), id(1));
  EXPECT_EQ(settled(withdrawals), ids({id(2)}));  // the others stood no longer before
  ASSERT_EQ(withdrawals.rings().size(), 1U);
  EXPECT_EQ(withdrawals.rings().front(), ids({id(1), id(2), id(3)}));
  EXPECT_TRUE(withdrawals.stands(id(9)));
}

}  // namespace
}  // namespace strikebed::daybook
