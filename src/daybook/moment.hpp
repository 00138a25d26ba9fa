#pragma once
// A moment as somebody's clock showed it: the instant, and how far that clock was from UTC.
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/date.hpp"

namespace strikebed::daybook {

inline constexpr int kLargestOffsetMin = 18 * 60;

struct Moment {
  std::int64_t ms = 0;  ///< since 1970-01-01T00:00:00Z, without leap seconds
  int offset_min = 0;   ///< local time less UTC; -18 to 18 hours
  bool operator==(const Moment&) const = default;
};

/// ISO 8601, always in full: "2027-04-18T09:30:00.000+02:00". The local year is 0001 to 9999.
[[nodiscard]] std::string to_iso(const Moment& moment);
/// Just that form and no other; nothing when there is no such day or time. An offset of nothing is "+00:00".
[[nodiscard]] std::optional<Moment> parse_iso_moment(std::string_view text);

/// A local day and minutes after its midnight, by a clock so far from UTC.
[[nodiscard]] Moment at_wall_clock(Date day, int minute, int offset_min);

/// The day that the calendar on the wall showed.
[[nodiscard]] Date local_day(const Moment& moment);

}  // namespace strikebed::daybook
