#pragma once
// The EPW weather file: one typical year of hours, put together from months of different years.
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "climate/columns.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// The dates of a typical year are those of this year, which is none of the file's own and has no 29 February.
inline constexpr int kNominalYear = 2001;

/// A field of an hour that is read; docs/weather-files.md repeats them (a test compares the two).
struct EpwField {
  Role role;
  std::string_view name;
  std::string_view unit;
  std::size_t place;    ///< in the row, from 1
  double missing_from;  ///< this and more means "missing"
  double low;           ///< possible, in its unit
  double high;
  double factor;  ///< to the record's unit
};
[[nodiscard]] std::span<const EpwField> epw_fields();

/// True when the text begins as an EPW file does.
[[nodiscard]] bool looks_like_epw(std::string_view text);

/// Where an EPW file was taken, by its first line; nothing where that says no place.
[[nodiscard]] std::optional<Site> site_of_epw(std::string_view text);

/// Reads an EPW file: 8 header lines, then 35 fields an hour (files without the last ones are read too). The record is
/// of kind typical_year, on days of kNominalYear, with the site of the LOCATION line. Wind, measured at 10 m, is
/// reduced to 2 m; hours are of standard time.
/// Errors: a header line that is not there, a field that is no number, a day that is none, more than a year of hours.
/// Source: field order, units, ranges and missing codes from "EnergyPlus Weather File (EPW) Data Dictionary",
/// EnergyPlus documentation, Auxiliary Programs (looked up); wind at 10 m: WMO practice, from memory.
[[nodiscard]] Result<WeatherRecord> read_weather_epw(std::string_view text, std::string name);

}  // namespace strikebed::climate
