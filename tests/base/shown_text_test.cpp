// Covers  what of a text from outside reaches a terminal.
// Ref     ECMA-48 (C0 and C1 control functions), Unicode 15 bidirectional controls; none needed for the cutting.
#include "base/shown_text.hpp"

#include <gtest/gtest.h>

namespace strikebed {
namespace {

TEST(ShownText, NothingThatATerminalObeysIsLeft) {
  EXPECT_EQ(safe_text("\x1b[2Jgone\x07"), "?[2Jgone?");
  EXPECT_EQ(safe_text("a\rb\x7f"), "a?b?");
  EXPECT_EQ(safe_text("\u009b31mred"), "?31mred") << "the one-character form of escape and bracket";
  EXPECT_EQ(safe_text("\x9b"
                      "31m"),
            "?31m")
      << "and its bare byte";
  EXPECT_EQ(safe_text("pine\u202etxt.exe"), "pine?txt.exe");
  EXPECT_EQ(safe_text(std::string_view("a\0b", 3)), "a?b");
}

TEST(ShownText, WritingStaysAsItIs) {
  const std::string text = "Schwarzkiefer, 黒松, 5 °C\n\tüber ± 3 \U0001F332";
  EXPECT_EQ(safe_text(text), text);
}

TEST(ShownText, BrokenUtf8IsAskedAboutByteByByte) {
  EXPECT_EQ(safe_text("\xc3"), "?");
  EXPECT_EQ(safe_text("\xc3(\xf0\x9f"), "?(??");
  EXPECT_EQ(safe_text("\xed\xa0\x80"), "???") << "half of a pair is no character";
}

TEST(ShownText, AQuoteIsOneLineOfSoManyCharacters) {
  EXPECT_EQ(quoted("tmax", 4), "\"tmax\"");
  EXPECT_EQ(quoted("tmaxx", 4), "\"tmax...\"");
  EXPECT_EQ(quoted("ä\nöü", 3), "\"ä?ö...\"");
}

TEST(ShownText, ALongTextKeepsItsTwoEnds) {
  EXPECT_EQ(shortened("abcdefghi", 9), "abcdefghi");
  EXPECT_EQ(shortened("abcdefghij", 9), "abcdef...hij");
  const std::string cut = shortened(std::string(5000, 'x') + "ä" + std::string(5000, 'y'), 100);
  EXPECT_EQ(cut.size(), 103U);
  EXPECT_EQ(safe_text(shortened("äääääääää", 9)), shortened("äääääääää", 9)) << "no character is cut in two";
}

}  // namespace
}  // namespace strikebed
