#pragma once
// The use case "read a weather record": from a text to checked days.
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "climate/record.hpp"
#include "climate/summary.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

inline constexpr std::array<std::string_view, 2> kDateOrders{"day-first", "month-first"};

/// What a number may be.
struct Bounds {
  double low;
  double high;
};
inline constexpr Bounds kLatitudes_deg{-90, 90};
inline constexpr Bounds kLongitudes_deg{-180, 180};
inline constexpr Bounds kElevations_m{-500, 9000};
inline constexpr Bounds kWindHeights_m{0.5, 200};
inline constexpr Bounds kDegreeDayBases_c{-20, 40};

/// A weather file, and what its header does not say. docs/weather-files.md
struct WeatherRequest {
  Text source;
  std::vector<std::string> columns{};     ///< "tmax=HIGH:F" or "tmax=HIGH"
  std::string date_order{};               ///< one of kDateOrders; empty: not said
  std::optional<double> wind_height_m{};  ///< of the measurement; nothing: as the header says, else 2 m
  std::optional<double> latitude_deg{};   ///< of the place, for what the sun can bring
  bool operator==(const WeatherRequest&) const = default;
};

/// Reads and checks a CSV or an EPW file; which of the two is told by the name (.epw) or by how the text begins.
/// Errors: those of its content, with line and column; a date order that is none.
[[nodiscard]] Result<climate::WeatherRecord> read_weather(const WeatherRequest& request);

/// What the record does not say itself, for its summary.
struct SummaryRequest {
  WeatherRequest weather;
  std::optional<double> latitude_deg{};
  std::optional<double> longitude_deg{};  ///< left out: 0
  std::optional<double> elevation_m{};    ///< left out: 0, sea level
  std::vector<double> bases_c{5};         ///< of the degree-days
  bool on_coast = false;                  ///< for radiation estimated from temperature
};

/// Reads a record and sums it up. A place given in part is filled in from the file, where it says one.
/// Errors: those of reading; a longitude or an elevation without any latitude.
[[nodiscard]] Result<climate::WeatherSummary> summarise_weather(const SummaryRequest& request);

/// Where a weather file says it was taken, as far as that is said at its beginning (EPW).
[[nodiscard]] std::optional<climate::Site> site_of_weather(const Text& source);

/// Why a text that begins like this is no weather file, if that can be told (of a file that is still being read).
[[nodiscard]] std::optional<Error> why_not_weather(std::string_view beginning, const std::string& file);

/// What is wrong with a text like "tmax=HIGH:F", if anything.
[[nodiscard]] std::optional<Error> wrong_column_choice(const std::string& text);

}  // namespace strikebed::nursery
