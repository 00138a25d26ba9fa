#pragma once
// A weather record summed up, as plain text.
#include <string>

#include "base/field_names.hpp"
#include "climate/summary.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

/// What the record holds, its months, degree-days and frosts, and what was found while reading it. UTF-8, ends with a
/// line break.
///   names  what the reader's controls are called; "json": how to get all of it
///   width  characters in a line; a table that is wider stands out
[[nodiscard]] std::string weather_text(const climate::WeatherSummary& summary, const FieldNames& names,
                                       int width = kUsualWidth);

}  // namespace strikebed::print
