#pragma once
// What the pictures of a plan share: their size, axes, and the colour of each want.
#include <cstddef>
#include <string_view>

#include "base/date.hpp"
#include "print/svg.hpp"

namespace strikebed::print {

/// Of every picture in half a sheet. Letters are 13 units high: on a phone and on paper a unit is about a pixel.
inline constexpr double kHalfSheet = 350;

/// The plotting area inside the axes.
struct Area {
  double left = 0, right = 0, top = 0, bottom = 0;
};

[[nodiscard]] double day_number(Date date);
[[nodiscard]] double words_width(std::string_view text);  ///< about; only used to keep words from overlapping
[[nodiscard]] std::string_view want_style(std::size_t want);

/// Horizontal lines with a number at each; `name` stands above them.
void upright_axis(Picture& picture, const Area& area, const Scale& scale, std::string_view name,
                  bool in_percent = false);
/// What the numbers or days below the area are.
void level_axis_name(Picture& picture, const Area& area, std::string_view name);
/// A dashed line at what was asked or allowed, with words at its right end, off the topmost line of the grid.
void limit_line(Picture& picture, const Area& area, double y, std::string_view words);

}  // namespace strikebed::print
