#pragma once
// What the writer of a line that is no TOML most likely meant.
#include <string>
#include <string_view>

namespace strikebed::nursery {

/// How to write it, for messages: "dates as 2027-09-15", "decimals with a point: 59.86", "text in quotes: \"pine\"";
/// empty when it is none of the usual slips. Of a very long line only the beginning is looked at.
[[nodiscard]] std::string usual_slip(std::string_view line);

}  // namespace strikebed::nursery
