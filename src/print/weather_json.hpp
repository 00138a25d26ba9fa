#pragma once
// A weather record summed up, as one JSON document. docs/json.md
#include <string>

#include "climate/summary.hpp"

namespace strikebed::print {

/// Keys are stable and carry their units; what is not known is null. Ends with a line break.
[[nodiscard]] std::string weather_json(const climate::WeatherSummary& summary);

}  // namespace strikebed::print
