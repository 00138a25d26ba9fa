#pragma once
// Plain text for a terminal or a printer with fixed-width letters: tables, bars.
#include <string>
#include <string_view>
#include <vector>

#include "base/lines.hpp"

namespace strikebed::print {

/// A space at which no line is broken (U+00A0); print it as an ordinary one with plain_spaces().
inline constexpr std::string_view kNoBreak = "\u00a0";

[[nodiscard]] std::string replaced(std::string text, std::string_view from, std::string_view to);
[[nodiscard]] std::string unbroken(std::string text);      ///< every space becomes kNoBreak
[[nodiscard]] std::string plain_spaces(std::string text);  ///< every kNoBreak becomes a space

/// A sheet of so many characters in a line, for what is made up of indented paragraphs.
struct Lines {
  std::size_t width;
  [[nodiscard]] std::string item(std::string_view text) const { return paragraph(text, width, "  "); }
};

struct Column {
  std::string head;
  bool right = false;  ///< numbers: aligned to the right
};

/// A table two spaces in from the left with two spaces between columns; the last column is wrapped into what is left
/// of `width`. Where that is not enough, the heads are wrapped, then the first column, then the widest of the others at
/// spaces outside brackets. Where even that is not enough, a row's cells stand one below the other with their heads.
/// Without any row: nothing.
[[nodiscard]] std::string table(const std::vector<Column>& columns, const std::vector<std::vector<std::string>>& rows,
                                std::size_t width);

/// A bar of `share` (taken into 0...1) of `cells` characters, to half a character.
[[nodiscard]] std::string bar(double share, std::size_t cells);

}  // namespace strikebed::print
