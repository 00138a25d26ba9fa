#pragma once
// Entries back from where they are kept, ten times as fast as from anywhere else: their text is nearly always just as
// entry_json wrote it, so that it can be read from front to back, each key expected where it stands.
#include <string_view>

#include "base/result.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// What read_entry reads, and its errors.
[[nodiscard]] Result<Entry> read_kept_entry(std::string_view json);

}  // namespace strikebed::daybook
