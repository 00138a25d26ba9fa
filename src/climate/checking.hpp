#pragma once
// From rows as read (daily, hourly or finer) to a checked daily record: order, doubles, days, gaps.
#include <optional>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "climate/columns.hpp"
#include "climate/notices.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// When a row was, and where it stands in the file.
struct RowStamp {
  int day;     ///< since 1970-01-01
  int minute;  ///< 0-1440 of the day; 0 without a time
  int line;
};

/// A measured column.
struct MeasuredColumn {
  Role role;
  const KnownUnit* unit;  ///< in which it is written; per_day: a rate a day (MJ/m2/day, mm/day), not the row's amount
};

/// A file as read: values in °C, mm, %, m/s, MJ/m2; missing ones NaN.
struct Observations {
  std::vector<MeasuredColumn> columns;
  std::vector<RowStamp> rows;
  std::vector<double> values;          ///< row by row, columns.size() each
  bool timed = false;                  ///< rows carry a time of day
  double wind_factor = 1;              ///< to 2 m
  std::optional<double> latitude_deg;  ///< of the place, for what the sun can bring
};

/// A day counts as measured when at least this many of its hours are there; so do hourly columns one by one.
inline constexpr int kHoursNeeded = 20;
/// The longest run of days that is filled.
inline constexpr int kLongestFilledGap = 3;

/// Wind at height z over that at 2 m over short grass: u2 = u_z * this, 4.87 / ln(67.8 z - 5.42).
///   height_m  0.5...200
/// Source: FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), equation 47.
[[nodiscard]] double wind_factor_to_2_m(double height_m);

/// Sorts, drops doubles, gathers hours into local days, puts swapped extremes right, fills short gaps and counts long
/// ones. docs/weather-files.md says what is repaired and what is refused.
/// Errors: no rows; two different rows for one day or hour; no day with temperature; hours too far apart.
[[nodiscard]] Result<WeatherRecord> check_observations(Observations observed, NoticeBook notices, std::string name,
                                                       RecordKind kind);

}  // namespace strikebed::climate
