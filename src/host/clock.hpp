#pragma once
// The calendar and the clock on the wall of this machine: the only place where Strikebed looks at them.
#include "base/date.hpp"
#include "daybook/moment.hpp"

namespace strikebed::host {

/// Today's date where this program runs: the local calendar day.
[[nodiscard]] Date today();

/// This moment, with the offset from UTC that holds here now.
[[nodiscard]] daybook::Moment now();

/// The moment at which the clock here shows so many minutes after the midnight that begins a day; where it shows them
/// twice or never (when clocks are changed), one of the two, or one within the hour.
[[nodiscard]] daybook::Moment wall_clock(Date day, int minute);

}  // namespace strikebed::host
