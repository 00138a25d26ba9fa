#pragma once
// A note typed as one line, as the words that it is made of.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::nursery {

/// Words stand between blanks; what stands in quotation marks, " or ', is one word with its blanks.
/// Errors: a quotation mark that is not closed.
[[nodiscard]] Result<std::vector<std::string>> typed_words(std::string_view line);

}  // namespace strikebed::nursery
