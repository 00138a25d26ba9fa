#pragma once
// What must hold of every weather record, whatever text it was read from.
#include <optional>
#include <string>

#include "climate/record.hpp"

namespace strikebed::climate {

/// What is broken; nothing when all holds.
inline std::optional<std::string> broken_invariant(const Result<WeatherRecord>& read) {
  if (!read.ok()) {
    const Error& error = read.error();
    if (error.problem.empty()) return "an error without a problem";
    if (error.line < 0 || error.column < 0) return "an error before the first line";
    if (error.message().size() > 5000) return "an error that floods the screen";
    return std::nullopt;
  }
  const WeatherRecord& record = *read;
  if (record.days.empty()) return "a record without days";
  if (record.days.size() > 400U * 366) return "a record of more than 400 years";
  if (record.notices.size() > 45'000) return "notices that were not capped";
  int filled = 0;
  int missing = 0;
  const auto outside = [](const std::optional<double>& value, double low, double high) {
    return value && !(*value >= low && *value <= high);
  };
  for (std::size_t i = 0; i < record.days.size(); ++i) {
    const Day& day = record.days[i];
    if (i > 0 && day.date != record.days[i - 1].date + Days{1}) return "days that are not consecutive";
    if (day.has_temperature() && *day.tmin_c > *day.tmax_c) return "a minimum above the maximum";
    if (outside(day.tmin_c, -90, 70) || outside(day.tmax_c, -90, 70)) return "an impossible temperature";
    if (outside(day.humidity_pct, 0, 100)) return "an impossible humidity";
    if (outside(day.rain_mm, 0, 1e9)) return "a negative rain";
    if (outside(day.wind_m_s, 0, 500)) return "an impossible wind";
    if (outside(day.radiation_mj_m2, 0, 50)) return "an impossible radiation";
    if (day.filled && !day.has_temperature()) return "a filled day without temperature";
    filled += day.filled;
    missing += !day.has_temperature();
  }
  if (filled != record.days_filled) return "a wrong count of filled days";
  if (missing != record.days_missing) return "a wrong count of missing days";
  if (missing == static_cast<int>(record.days.size())) return "a record without temperature";
  return std::nullopt;
}

}  // namespace strikebed::climate
