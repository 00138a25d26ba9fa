#pragma once
// Plain text in lines of a width, for a terminal or a printer with fixed-width letters. Widths are counted in
// characters (code points), every one taken to be one cell wide.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace strikebed {

/// Characters in a line where nothing is known of the reader's screen or paper.
inline constexpr int kUsualWidth = 80;
/// As many as are asked for; but text is not set narrower than 40, as on a phone.
[[nodiscard]] std::size_t lines_of(int width);

[[nodiscard]] std::size_t width_of(std::string_view text);

/// The text in lines of at most `width` characters (a longer word stands alone), broken at spaces.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// The wrapped text as one string; the first line starts with `first`, the others with as many spaces.
[[nodiscard]] std::string paragraph(std::string_view text, std::size_t width, std::string_view first = "");

}  // namespace strikebed
