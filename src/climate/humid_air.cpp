#include "climate/humid_air.hpp"

#include <algorithm>
#include <cmath>

namespace strikebed::climate {

double saturation_kpa(double temperature_c) {
  return 0.6108 * std::exp(17.27 * temperature_c / (temperature_c + 237.3));
}

double saturation_slope_kpa_k(double temperature_c) {
  const double from_pole = temperature_c + 237.3;
  return 4098 * saturation_kpa(temperature_c) / (from_pole * from_pole);
}

double daily_saturation_kpa(double tmin_c, double tmax_c) {
  return (saturation_kpa(tmin_c) + saturation_kpa(tmax_c)) / 2;
}

double vapour_kpa(double temperature_c, double humidity_pct) {
  return saturation_kpa(temperature_c) * humidity_pct / 100;
}

double dew_point_c(double vapour_pressure_kpa) {
  const double x = std::log(vapour_pressure_kpa / 0.6108);
  return 237.3 * x / (17.27 - x);
}

double air_pressure_kpa(double elevation_m) { return 101.3 * std::pow((293 - 0.0065 * elevation_m) / 293, 5.26); }

double psychrometric_constant_kpa_k(double pressure_kpa) { return 0.000665 * pressure_kpa; }

double vapour_deficit_kpa(double temperature_c, double humidity_pct) {
  return saturation_kpa(temperature_c) * (1 - humidity_pct / 100);
}

double leaf_vapour_deficit_kpa(double leaf_c, double air_c, double humidity_pct) {
  return saturation_kpa(leaf_c) - vapour_kpa(air_c, humidity_pct);
}

double humidity_for_deficit_pct(double temperature_c, double deficit_kpa) {
  return 100 * (1 - deficit_kpa / saturation_kpa(temperature_c));
}

bool condenses(double surface_c, double air_c, double humidity_pct) {
  return saturation_kpa(surface_c) < vapour_kpa(air_c, humidity_pct);
}

double vapour_from_extremes_kpa(double tmin_c, double tmax_c, double humidity_max_pct, double humidity_min_pct) {
  return (vapour_kpa(tmin_c, humidity_max_pct) + vapour_kpa(tmax_c, humidity_min_pct)) / 2;
}

double vapour_from_highest_kpa(double tmin_c, double humidity_max_pct) { return vapour_kpa(tmin_c, humidity_max_pct); }

double vapour_from_mean_kpa(double tmin_c, double tmax_c, double humidity_mean_pct) {
  return daily_saturation_kpa(tmin_c, tmax_c) * humidity_mean_pct / 100;
}

double vapour_from_wet_bulb_kpa(double dry_c, double wet_c, double pressure_kpa, double coefficient) {
  return saturation_kpa(wet_c) - coefficient * pressure_kpa * (dry_c - wet_c);
}

std::optional<double> wet_bulb_c(double temperature_c, double humidity_pct, double pressure_kpa, double coefficient) {
  const double vapour = vapour_kpa(temperature_c, humidity_pct);
  double wet = approximate_wet_bulb_c(temperature_c, humidity_pct);
  for (int step = 0; step < 20; ++step) {  // Newton: the vapour pressure a wet bulb stands for rises steadily with it
    const double miss = vapour_from_wet_bulb_kpa(temperature_c, wet, pressure_kpa, coefficient) - vapour;
    wet -= miss / (saturation_slope_kpa_k(wet) + coefficient * pressure_kpa);
  }
  constexpr double kRounding_c = 1e-9;  // of saturated air at 0 °C, whose wet bulb is 0 °C
  if (!(wet >= -kRounding_c)) return std::nullopt;
  return std::max(wet, 0.0);
}

double approximate_wet_bulb_c(double temperature_c, double humidity_pct) {
  return temperature_c * std::atan(0.151977 * std::sqrt(humidity_pct + 8.313659)) +
         std::atan(temperature_c + humidity_pct) - std::atan(humidity_pct - 1.676331) +
         0.00391838 * std::pow(humidity_pct, 1.5) * std::atan(0.023101 * humidity_pct) - 4.686035;
}

}  // namespace strikebed::climate
