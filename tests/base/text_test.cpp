// Words as they are typed.
#include "base/text.hpp"

#include <gtest/gtest.h>

namespace strikebed {
namespace {

TEST(Text, LosesTheBlanksAtItsEndsOnly) {
  EXPECT_EQ(trimmed(" \t3 mL\r\n"), "3 mL");
  EXPECT_EQ(trimmed("\u00a0 3\u00a0mL \u00a0"), "3\u00a0mL");
  EXPECT_EQ(trimmed(" \u00a0 "), "");
  // Other letters that begin or end with a byte of the no-break space stay whole.
  EXPECT_EQ(trimmed("\u00b1 5 \u00e0"), "\u00b1 5 \u00e0");
}

TEST(Text, IsLoweredLetterByLetter) { EXPECT_EQ(lower("Tbsp-METRIC \u00c4"), "tbsp-metric \u00c4"); }

}  // namespace
}  // namespace strikebed
