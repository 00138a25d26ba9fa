#include "climate/degree_days.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace strikebed::climate {

double degree_days_average(double tmin, double tmax, double base) { return std::max(0.0, (tmin + tmax) / 2 - base); }

double degree_days_four_case(double tmin, double tmax, double base) {
  if (tmax <= base) return 0;
  const double mean = (tmin + tmax) / 2;
  if (tmin >= base) return mean - base;
  if (mean >= base) return (tmax - base) / 2 - (base - tmin) / 4;
  return (tmax - base) / 4;
}

double degree_days_single_sine(double tmin, double tmax, double base) {
  const double mean = (tmin + tmax) / 2;
  if (tmin >= base) return mean - base;
  if (tmax <= base) return 0;
  const double amplitude = (tmax - tmin) / 2;
  const double theta = std::asin((base - mean) / amplitude);
  return ((mean - base) * (std::numbers::pi / 2 - theta) + amplitude * std::cos(theta)) / std::numbers::pi;
}

double degree_days_double_sine(double tmin, double tmax, double next_tmin, double base) {
  return (degree_days_single_sine(tmin, tmax, base) + degree_days_single_sine(next_tmin, tmax, base)) / 2;
}

double degree_days_triangle(double tmin, double tmax, double base) {
  if (tmin >= base) return (tmin + tmax) / 2 - base;
  if (tmax <= base) return 0;
  return (tmax - base) * (tmax - base) / (2 * (tmax - tmin));
}

double degree_days_sine_with_cutoff(double tmin, double tmax, double base, double upper) {
  return degree_days_single_sine(tmin, tmax, base) - degree_days_single_sine(tmin, tmax, upper);
}

double degree_days_hourly(std::span<const double> hours, double base) {
  double sum = 0;
  for (const double temperature : hours) sum += std::max(0.0, temperature - base);
  return hours.empty() ? 0 : sum / static_cast<double>(hours.size());
}

}  // namespace strikebed::climate
