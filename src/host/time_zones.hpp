#pragma once
// The time-zone database of this machine.
#include <string>
#include <vector>

namespace strikebed::host {

/// Its names, as "Europe/Berlin"; none when the database is not on this machine.
[[nodiscard]] std::vector<std::string> time_zone_names();

}  // namespace strikebed::host
