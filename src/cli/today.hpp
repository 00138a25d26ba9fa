#pragma once
#include "base/date.hpp"

namespace strikebed::cli {

/// Today's date where this program runs: the local calendar day. The only place where Strikebed looks at a calendar.
[[nodiscard]] Date today();

}  // namespace strikebed::cli
