#pragma once
// A weather record summed up, as plain text.
#include <string>

#include "climate/summary.hpp"

namespace strikebed::print {

/// What the record holds, its months, degree-days and frosts, and what was found while reading it. UTF-8, ends with a
/// line break.
///   width  characters in a line; a table that is wider stands out
[[nodiscard]] std::string weather_text(const climate::WeatherSummary& summary, int width = 80);

}  // namespace strikebed::print
