#pragma once
// The use case "read a weather record": from a file on disk to checked days.
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "climate/record.hpp"

namespace strikebed::nursery {

/// A weather file, and what its header does not say. docs/weather-files.md
struct WeatherRequest {
  std::string path;
  std::vector<std::string> columns{};     ///< "tmax=HIGH:F" or "tmax=HIGH"
  std::string date_order{};               ///< "dmy", "mdy"; empty: not said
  std::optional<double> wind_height_m{};  ///< of the measurement; nothing: as the header says, else 2 m
};

/// Reads and checks a CSV or an EPW file; which of the two is told by the name (.epw) or by how the text begins.
/// Errors: those of the file and of its content, with line and column.
[[nodiscard]] Result<climate::WeatherRecord> read_weather(const WeatherRequest& request);

/// What is wrong with a text like "tmax=HIGH:F", if anything.
[[nodiscard]] std::optional<Error> wrong_column_choice(const std::string& text);

}  // namespace strikebed::nursery
