#pragma once
// A text file read whole, with a cap on its size.
#include <cstddef>
#include <string>

#include "base/result.hpp"

namespace strikebed::nursery {

/// The bytes of a file. At most `at_most_bytes` are ever read, so a file of any size is refused quickly.
/// Errors: not there, a folder, not readable, larger than the cap.
[[nodiscard]] Result<std::string> read_text_file(const std::string& path, std::size_t at_most_bytes);

}  // namespace strikebed::nursery
