#pragma once
// The help of a command, set for the reader's screen.
#include <cstddef>
#include <string>
#include <string_view>

namespace strikebed::cli {

inline constexpr std::size_t kHelpColumn = 28;  ///< where what an option is for begins

/// A help whose lines may be of any length, with what stands from kHelpColumn on, and other prose, in lines of at most
/// `width` characters. A line that shows a command is broken as a shell takes it.
[[nodiscard]] std::string fitted_help(std::string_view help, int width);

}  // namespace strikebed::cli
