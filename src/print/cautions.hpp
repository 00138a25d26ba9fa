#pragma once
// What can hurt in this work.
#include <string>
#include <vector>

namespace strikebed::print {

/// The usual cautions of this work. They defer to labels, local codes and licensed practice.
[[nodiscard]] const std::vector<std::string>& cautions();

}  // namespace strikebed::print
