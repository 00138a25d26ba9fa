#pragma once
// The published checks as a grower or a reviewer reads them.
#include <span>
#include <string>

#include "print/check.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

/// One table per topic, expected against computed, and the closing line "N of M published checks hold". Of a list only
/// the figure that comes nearest to its limit is shown, with the length of the list.
[[nodiscard]] std::string checks_text(std::span<const Check> checks, int width = kUsualWidth);

}  // namespace strikebed::print
