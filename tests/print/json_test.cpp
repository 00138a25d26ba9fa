// Numbers and texts of the JSON documents.
#include "print/json.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace strikebed::print {
namespace {

TEST(JsonNumber, HasSixFiguresWithoutNoise) {
  EXPECT_EQ(number(0.1 + 0.2).dump(), "0.3");
  EXPECT_EQ(number(1.0 / 3).dump(), "0.333333");
  EXPECT_EQ(number(-123.4567891).dump(), "-123.457");
  EXPECT_EQ(number(12345678.9).dump(), "12345700.0");
  EXPECT_EQ(number(4.5).dump(), "4.5");
  EXPECT_EQ(number(100).dump(), "100.0");
  EXPECT_EQ(number(2.5e-7).dump(), "2.5e-07");
}

TEST(JsonNumber, OfNothingIsZero) {
  EXPECT_EQ(number(0).dump(), "0.0");
  EXPECT_EQ(number(-0.0).dump(), "0.0");
  EXPECT_EQ(number(0.3 - 0.1 - 0.2).dump(), "0.0");
}

TEST(JsonNumber, IsNullWhereThereIsNone) {
  EXPECT_TRUE(number(std::numeric_limits<double>::quiet_NaN()).is_null());
  EXPECT_TRUE(number(std::numeric_limits<double>::infinity()).is_null());
  EXPECT_TRUE(number(std::optional<double>()).is_null());
  EXPECT_EQ(number(std::optional(1.5)).dump(), "1.5");
}

TEST(JsonNumber, OfTheLargestAndSmallestIsReadBack) {
  for (const double value : {1.7e308, -1.7e308, 1e300, 1.234567e-11}) {
    const double read = nlohmann::json::parse(number(value).dump()).get<double>();
    EXPECT_NEAR(read / value, 1, 1e-5);
  }
}

TEST(JsonDocument, HoldsBytesThatAreNoText) {
  const std::string text = document({{"name", "a\xff"}});
  EXPECT_EQ(text, "{\n  \"name\": \"a\xEF\xBF\xBD\"\n}\n");
}

TEST(JsonDocument, IsPlainInATerminalAndTheSameWhenReadBack) {
  const std::string name = "a\x1b[2J\u009b2J\x7f\u202e";
  const std::string text = document({{"name", name}});
  EXPECT_EQ(text, "{\n  \"name\": \"a\\u001b[2J\\u009b2J\\u007f\\u202e\"\n}\n");
  EXPECT_EQ(nlohmann::json::parse(text)["name"], name);
}

}  // namespace
}  // namespace strikebed::print
