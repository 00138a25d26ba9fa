#pragma once
// Plain text for a terminal or a printer with fixed-width letters: wrapping, tables, bars. Widths are counted in
// characters (code points), every one taken to be one cell wide.
#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace strikebed::print {

/// A space at which no line is broken (U+00A0); print it as an ordinary one with plain_spaces().
inline constexpr std::string_view kNoBreak = "\u00a0";

[[nodiscard]] std::size_t width_of(std::string_view text);
[[nodiscard]] std::string replaced(std::string text, std::string_view from, std::string_view to);
[[nodiscard]] std::string unbroken(std::string text);      ///< every space becomes kNoBreak
[[nodiscard]] std::string plain_spaces(std::string text);  ///< every kNoBreak becomes a space

/// The text in lines of at most `width` characters (a longer word stands alone), broken at spaces.
[[nodiscard]] std::vector<std::string> wrapped(std::string_view text, std::size_t width);

/// The wrapped text as one string; the first line starts with `first`, the others with as many spaces.
[[nodiscard]] std::string paragraph(std::string_view text, std::size_t width, std::string_view first = "");

struct Column {
  std::string head;
  bool right = false;  ///< numbers: aligned to the right
};

/// A table two spaces in from the left with two spaces between columns; the last column is wrapped into what is left
/// of `width`. Where that is not enough, the heads are wrapped, then the first column. Without any row: nothing.
[[nodiscard]] std::string table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows,
                                std::size_t width);

/// A bar of `share` (taken into 0...1) of `cells` characters, to half a character.
[[nodiscard]] std::string bar(double share, std::size_t cells);

}  // namespace strikebed::print
