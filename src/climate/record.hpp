#pragma once
// Daily weather of one place, as read from a file and checked. What every other part of climate works on.
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "climate/notice.hpp"

namespace strikebed::climate {

/// Where the weather was taken. latitude -90...90 (south negative), longitude -180...180 (west negative).
struct Site {
  double latitude_deg = 0;
  double longitude_deg = 0;
  double elevation_m = 0;
};

/// One local day. A missing value is an empty optional, never a special number.
struct Day {
  Date date;
  std::optional<double> tmin_c;
  std::optional<double> tmax_c;
  std::optional<double> rain_mm;
  std::optional<double> humidity_pct;  ///< mean relative humidity, 0-100
  std::optional<double> dew_point_c;
  std::optional<double> wind_m_s;         ///< mean at 2 m
  std::optional<double> radiation_mj_m2;  ///< global, a day
  bool filled = false;                    ///< tmin/tmax were interpolated over a short gap

  [[nodiscard]] bool has_temperature() const { return tmin_c && tmax_c; }
};

enum class RecordKind {
  years,        ///< consecutive real days
  typical_year  ///< a composite year (EPW): fit to it, never resample it
};

/// A checked record: days are consecutive from the first to the last date; a day of a gap too long to fill is there
/// with no temperature.
struct WeatherRecord {
  std::string name;  ///< file name or station, for messages
  RecordKind kind = RecordKind::years;
  std::optional<Site> site;  ///< from the file itself (EPW), if it says
  std::vector<Day> days;
  std::vector<Notice> notices;  ///< everything repaired or doubtful, the most serious first
  int days_filled = 0;          ///< days interpolated over short gaps
  int days_missing = 0;         ///< days left without temperature (long gaps)
  int hourly_rows = 0;          ///< rows read when the file was hourly; 0 for a daily file
};

/// Twelve monthly normals, January first: all that is known of a place without a record.
struct MonthlyNormals {
  std::array<double, 12> tmin_c{};
  std::array<double, 12> tmax_c{};
  std::array<double, 12> tmin_sd_c{};  ///< sd of single days about the month's mean
  std::array<double, 12> tmax_sd_c{};
  /// Sd of what the twelve do not tell of a season's mean, °C; 0 where each of them is known (two_month_normals).
  double season_error_c = 0;
  bool operator==(const MonthlyNormals&) const = default;
};

}  // namespace strikebed::climate
