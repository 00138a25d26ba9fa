#pragma once
// Text from outside (names of files and columns, words of profiles, arguments) on its way to a terminal: nothing in it
// may move the cursor, change colours, turn the direction of writing, or fill the screen.
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>

namespace strikebed {

/// The text with every character that a terminal might obey replaced by what `instead` makes of it: control characters
/// other than line end and tab (C0, delete, C1), marks of the direction of writing, line and paragraph separators, and
/// each byte that is no UTF-8 (then there is no code point).
[[nodiscard]] std::string without_controls(std::string_view text,
                                           const std::function<std::string(std::optional<char32_t>)>& instead);

/// The same with a question mark for each of them.
[[nodiscard]] std::string safe_text(std::string_view text);

/// In quotation marks, on one line: at most `most` characters, without controls.
[[nodiscard]] std::string quoted(std::string_view text, std::size_t most);

/// Beginning and end of a text that has more than `most` bytes, with "..." for what lies between.
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most);

}  // namespace strikebed
