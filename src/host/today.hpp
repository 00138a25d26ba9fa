#pragma once
// The calendar of this machine.
#include "base/date.hpp"

namespace strikebed::host {

/// Today's date where this program runs: the local calendar day. The only place where Strikebed looks at a calendar.
[[nodiscard]] Date today();

}  // namespace strikebed::host
