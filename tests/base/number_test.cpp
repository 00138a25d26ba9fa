#include "base/number.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <string>

namespace strikebed {
namespace {

TEST(Number, IsReadFromEndToEnd) {
  EXPECT_EQ(parse_number("12"), 12);
  EXPECT_EQ(parse_number("-0.5"), -0.5);
  EXPECT_EQ(parse_number("1e-3"), 1e-3);
  EXPECT_EQ(parse_number(".5"), 0.5);
  EXPECT_EQ(parse_number("5."), 5);
}

TEST(Number, IsRoundedCorrectly) {
  EXPECT_EQ(parse_number("0.1"), 0.1);
  EXPECT_EQ(parse_number("9007199254740993"), 9007199254740992.0);             // halfway: to the even one
  EXPECT_EQ(parse_number("9007199254740993.0000000001"), 9007199254740994.0);  // just above it
  EXPECT_EQ(parse_number("2.2250738585072011e-308"), 2.2250738585072011e-308);
  EXPECT_EQ(parse_number("1.7976931348623157e308"), std::numeric_limits<double>::max());
}

TEST(Number, OfManyDigitsIsReadWhole) {
  EXPECT_EQ(parse_number("1" + std::string(300, '0')), 1e300);
  EXPECT_EQ(parse_number("0." + std::string(1000, '0') + "1"), 0);  // far below the smallest there is
  EXPECT_EQ(parse_number("1." + std::string(100'000, '9')), 2);
}

TEST(Number, IsNothingElse) {
  for (const char* text : {"", " ", "-", "+1", " 1", "1 ", "1,5", "1.2.3", "1e", "0x10", "a", "1a", "--1", "inf",
                           "-inf", "infinity", "nan", "1e999", "-1e999"}) {
    EXPECT_FALSE(parse_number(text)) << '"' << text << '"';
  }
  EXPECT_FALSE(parse_number(std::string_view("1\0", 2)));
}

TEST(Number, LeadsAText) {
  const auto grit = parse_leading_number("2.5 grit 3-4 mm");
  ASSERT_TRUE(grit);
  EXPECT_EQ(grit->number, 2.5);
  EXPECT_EQ(grit->rest, " grit 3-4 mm");
  EXPECT_EQ(parse_leading_number("3elbows")->rest, "elbows");  // no digit after the e: it is no exponent
  EXPECT_EQ(parse_leading_number("3")->rest, "");
  EXPECT_FALSE(parse_leading_number("grit 3"));
  EXPECT_FALSE(parse_leading_number("infinite grit"));
  EXPECT_FALSE(parse_leading_number("1e999 grit"));
}

}  // namespace
}  // namespace strikebed
