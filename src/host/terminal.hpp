#pragma once
// The terminal that this program writes to, if it is one.
#include <optional>

namespace strikebed::host {

/// Characters in a line of the terminal that standard output goes to; nothing when it goes elsewhere.
[[nodiscard]] std::optional<int> terminal_width();

}  // namespace strikebed::host
