#pragma once
// Words as they are typed: blanks round them, letters of any case.
#include <string>
#include <string_view>

namespace strikebed {

/// Without the blanks at both ends: spaces, tabs, line ends and no-break spaces (UTF-8).
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// The last part of a path, what a reader knows a file by; the whole where it has no part before.
[[nodiscard]] std::string_view file_name(std::string_view path);

/// A to Z in small letters; all else as it is.
[[nodiscard]] std::string lower(std::string_view text);

}  // namespace strikebed
