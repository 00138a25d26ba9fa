// Ids as text.
#include "daybook/entry_id.hpp"

#include <gtest/gtest.h>

#include <string>

namespace strikebed::daybook {
namespace {

TEST(EntryId, GoesRoundExactlyAndItsTextsAreInOrder) {
  const EntryId ids[] = {{0, 0}, {0, 1}, {0, ~0ULL}, {1, 0}, {0x00ffULL << 40, 9}, {~0ULL, ~0ULL}};
  std::string before;
  for (const EntryId& id : ids) {
    const std::string text = to_text(id);
    EXPECT_EQ(text.size(), 32U);
    EXPECT_EQ(parse_entry_id(text), id);
    EXPECT_LT(before, text);
    before = text;
  }
}

TEST(EntryId, IsNothingElse) {
  const std::string right(32, 'a');
  EXPECT_TRUE(parse_entry_id(right));
  const std::string short_by_one = right.substr(1);
  EXPECT_FALSE(parse_entry_id(short_by_one));
  for (const char* before : {" ", "-", "A", "g", "aa"}) {
    std::string wrong = before;
    wrong += short_by_one;
    EXPECT_FALSE(parse_entry_id(wrong)) << wrong;
  }
}

}  // namespace
}  // namespace strikebed::daybook
