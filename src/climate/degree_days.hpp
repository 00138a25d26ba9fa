#pragma once
// Degree-days of one day from its minimum and maximum temperature, by the usual methods. They differ by 1-5 % on the
// same file, so every total names its method. Temperatures and bases in one unit (°C or degF); the answer in that
// unit x day. docs/methods/degree-days.md
#include <span>

namespace strikebed::climate {

/// max(0, (tmin + tmax) / 2 - base).
[[nodiscard]] double degree_days_average(double tmin, double tmax, double base);

/// The four-case formula of the Irish and British weather services: the whole mean when the minimum is above the base,
/// a half or a quarter of the parts above when the base lies in between, none when the maximum is below.
[[nodiscard]] double degree_days_four_case(double tmin, double tmax, double base);

/// Area above the base under one sine through minimum and maximum. Baskerville & Emin 1969, Ecology 50:514-517.
[[nodiscard]] double degree_days_single_sine(double tmin, double tmax, double base);

/// A half sine from today's minimum to the maximum, another down to the next day's minimum. Allen 1976, Environ.
/// Entomol. 5:388-396.
[[nodiscard]] double degree_days_double_sine(double tmin, double tmax, double next_tmin, double base);

/// Area above the base under two straight lines. Lindsey & Newman 1956, Ecology 37:812-823.
[[nodiscard]] double degree_days_triangle(double tmin, double tmax, double base);

/// Single sine, and no more gained above `upper` than at it (horizontal cut-off). upper >= base.
[[nodiscard]] double degree_days_sine_with_cutoff(double tmin, double tmax, double base, double upper);

/// Mean over the hours of max(0, T - base): the day's degree-days when `hours` are the 24 hours of one day.
[[nodiscard]] double degree_days_hourly(std::span<const double> hours, double base);

}  // namespace strikebed::climate
