#pragma once
// The time zone of a place: a name of the time-zone database, or a fixed offset from UTC.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::nursery {

inline constexpr std::string_view kTimeZoneAllowed =
    "a name of the time-zone database, such as \"Europe/Berlin\", or an offset from UTC, such as \"+01:00\"";

/// One of `names` as it stands; "+01:00", "+1", "+0100", "UTC+1" and "GMT+1" (east of Greenwich, always) as
/// "UTC+01:00", "Z" as "UTC+00:00". Offsets: -12:00 to +14:00, minutes below 60.
/// Errors: an offset outside, no such name (with the nearest there is), a name where none is known.
[[nodiscard]] Result<std::string> parse_time_zone(const std::string& written, const std::vector<std::string>& names);

/// The offset of the whole hour nearest to the sun's, without summer time: "UTC-08:00". -180 to 180 degrees, west
/// negative.
[[nodiscard]] std::string zone_of_longitude(double longitude_deg);

}  // namespace strikebed::nursery
