#include "print/svg.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace strikebed::print {
namespace {

/// Contrast of two "#rrggbb" colours. Source: WCAG 2.2, definitions of relative luminance and contrast ratio.
double contrast(std::string_view one, std::string_view other) {
  const auto luminance = [](std::string_view colour) {
    const auto part = [&](std::size_t at) {
      const double share = std::stoi(std::string(colour.substr(at, 2)), nullptr, 16) / 255.0;
      return share <= 0.04045 ? share / 12.92 : std::pow((share + 0.055) / 1.055, 2.4);
    };
    return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
  };
  const double a = luminance(one);
  const double b = luminance(other);
  return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

}  // namespace

// Ref  WCAG 2.2: black on white is 21:1; #767676 on white is the known grey just above 4.5:1 (4.54).
TEST(Palette, ContrastFollowsTheStandard) {
  EXPECT_NEAR(contrast("#000000", "#ffffff"), 21, 1e-9);
  EXPECT_NEAR(contrast("#767676", "#ffffff"), 4.54, 0.01);
}

// Ref  WCAG 2.2, 1.4.3 (text 4.5:1) and 1.4.11 (shapes 3:1).
TEST(Palette, IsReadable) {
  for (const std::string_view ground : {kPaper, kSheet}) {
    for (const std::string_view text : {kInk, kQuiet, kNeedle, kClay}) EXPECT_GE(contrast(text, ground), 4.5) << text;
    for (const std::string_view shape : {kSandEdge, kShoot, kNeedle, kClay})
      EXPECT_GE(contrast(shape, ground), 3.0) << shape;
  }
}

TEST(Markup, IsEscaped) {
  EXPECT_EQ(escape_markup("a < b & \"c\" > 'd'"), "a &lt; b &amp; &quot;c&quot; &gt; &#39;d&#39;");
  EXPECT_EQ(escape_markup(std::string_view("x\0y\x1b\x7fz\n", 7)), "xyz\n");
  EXPECT_EQ(escape_markup("größe ±0.3 %"), "größe ±0.3 %");
}

TEST(Scales, PutNumbersInPlace) {
  const Scale scale{0, 100, 40, 240};
  EXPECT_DOUBLE_EQ(scale.at(0), 40);
  EXPECT_DOUBLE_EQ(scale.at(50), 140);
  EXPECT_DOUBLE_EQ(scale.at(100), 240);
  EXPECT_DOUBLE_EQ(scale.at(std::numeric_limits<double>::quiet_NaN()), 40);
  EXPECT_DOUBLE_EQ((Scale{5, 5, 10, 20}.at(7)), 10);
}

TEST(Scales, HaveRoundTicks) {
  EXPECT_EQ(round_ticks(0, 100, 6), (std::vector<double>{0, 20, 40, 60, 80, 100}));
  EXPECT_EQ(round_ticks(0, 1200, 6), (std::vector<double>{0, 250, 500, 750, 1000}));
  EXPECT_TRUE(round_ticks(3, 3, 6).empty());
  EXPECT_TRUE(round_ticks(0, std::numeric_limits<double>::infinity(), 6).empty());
  for (const double high : {1.0, 7.0, 48.0, 333.0, 1e6}) {
    for (const int most : {2, 4, 6, 10}) {
      const auto ticks = round_ticks(0, high, most);
      EXPECT_LE(ticks.size(), static_cast<std::size_t>(most)) << high;
      EXPECT_GE(ticks.size(), 1U) << high;
    }
  }
}

TEST(Scales, EndOnARoundNumber) {
  EXPECT_DOUBLE_EQ(round_above(412), 500);
  EXPECT_DOUBLE_EQ(round_above(1212), 1500);
  EXPECT_DOUBLE_EQ(round_above(100), 100);
  EXPECT_DOUBLE_EQ(round_above(0), 1);
  EXPECT_DOUBLE_EQ(round_above(std::numeric_limits<double>::infinity()), 1);
}

}  // namespace strikebed::print
