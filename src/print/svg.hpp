#pragma once
// Pictures as SVG written by hand: the palette, scales with round ticks, and a sheet to draw on. Shapes carry a class
// and get their colours from picture_style(), so that a page has them in one place.
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/date.hpp"

namespace strikebed::print {

// The palette: paper, sand, clay, needle green. Text on paper has a contrast of 7:1 or more (ink 13:1, quiet 7:1),
// lines and shapes that carry meaning 3:1 or more (WCAG 2.2, 1.4.3 and 1.4.11; computed with its formula).
inline constexpr std::string_view kPaper = "#f8f4ea";
inline constexpr std::string_view kSheet = "#fffdf7";
inline constexpr std::string_view kSand = "#d9c79d";
inline constexpr std::string_view kSandEdge = "#857040";
inline constexpr std::string_view kClay = "#9c4a2b";
inline constexpr std::string_view kNeedle = "#2f5d3d";
inline constexpr std::string_view kShoot = "#658f58";
inline constexpr std::string_view kInk = "#2b261f";
inline constexpr std::string_view kQuiet = "#5a5040";
inline constexpr std::string_view kHairline = "#e2d8c3";

/// Text made safe inside elements and quoted attributes of HTML and SVG; control characters other than tab and line
/// break are left out.
[[nodiscard]] std::string escape_markup(std::string_view text);

/// A straight scale from numbers to places on the sheet. Numbers that are not finite land on `start`.
struct Scale {
  double from = 0;
  double to = 1;  ///< equal to `from`: everything lands on `start`
  double start = 0;
  double end = 1;
  [[nodiscard]] double at(double number) const;
};

/// Round numbers (1, 2, 2.5 or 5 times a power of ten apart) from at or above `low` to at or below `high`, at most
/// `most` of them (`most` >= 2). Nothing when high <= low.
[[nodiscard]] std::vector<double> round_ticks(double low, double high, int most);

/// The smallest round number (1, 1.5, 2, 2.5, 3, 4, 5, 6 or 8 times a power of ten) not below `number`; 1 for numbers
/// below 1 and for what is not finite.
[[nodiscard]] double round_above(double number);

enum class Anchor { start, middle, end };

/// One picture, `width` by `height` units, with a title and a description for those who cannot see it.
class Picture {
 public:
  /// `id` must be unique on the page and need no escaping.
  Picture(std::string_view id, std::string_view title, std::string_view description, double width, double height);
  void rectangle(double x, double y, double width, double height, std::string_view style);
  void line(double x1, double y1, double x2, double y2, std::string_view style);
  void dot(double x, double y, double radius, std::string_view style);
  void path(const std::vector<std::pair<double, double>>& points, std::string_view style);
  void words(double x, double y, std::string_view text, Anchor anchor = Anchor::start, std::string_view style = "");
  [[nodiscard]] std::string done() const;

 private:
  std::string body_;
};

/// The style rules of every class the pictures use.
[[nodiscard]] std::string picture_style();

}  // namespace strikebed::print
