#pragma once
// Daily or hourly weather from a CSV file. What is understood, repaired and refused: docs/weather-files.md.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "climate/columns.hpp"
#include "climate/date_form.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

struct CsvOptions {
  std::vector<ColumnChoice> columns;          ///< take the place of the table of names
  DateOrder date_order = DateOrder::unknown;  ///< for dates like 5/1/2027 that leave it open
  std::optional<double> wind_height_m;        ///< 0.5...200 m; nothing: as the header says, else 2 m
  std::optional<double> latitude_deg;         ///< of the place, for what the sun can bring
};

/// Why a text, or one that begins like this, is no CSV file; nothing when it may be one. Takes no time to speak of.
[[nodiscard]] std::optional<Error> why_not_csv(std::string_view text, const std::string& name);

/// Reads and checks the whole text in one pass and in time proportional to its length; nothing of it is kept.
///   text  of the file; comma, semicolon or tab between cells; LF or CRLF; UTF-8 with or without byte order mark
///   name  of the file, for messages
/// The record's days are consecutive; every repair is among its notices.
/// Errors: whatever docs/weather-files.md lists under "What is refused", with line and column.
[[nodiscard]] Result<WeatherRecord> read_weather_csv(std::string_view text, const std::string& name,
                                                     const CsvOptions& options = {});

}  // namespace strikebed::climate
