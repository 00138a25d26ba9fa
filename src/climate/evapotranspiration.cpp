#include "climate/evapotranspiration.hpp"

#include <algorithm>
#include <cmath>

#include "climate/humid_air.hpp"
#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

constexpr double kAlbedo = 0.23;                      // of short grass
constexpr double kMmPerMj = 0.408;                    // mm of water that 1 MJ/m2 evaporates
constexpr double kStefanBoltzmann_mj_day = 4.903e-9;  // MJ / m2 / K4 a day
constexpr double kKelvin = 273.16;                    // as FAO-56 has it

/// Long-wave loss of a black body at `kelvin4` (mean fourth power) damped by vapour and by cloud.
double net_long(double stefan_boltzmann, double kelvin4, double vapour, double cloud_factor) {
  return stefan_boltzmann * kelvin4 * (0.34 - 0.14 * std::sqrt(std::max(vapour, 0.0))) * cloud_factor;
}

double fourth_power(double temperature_c) { return std::pow(temperature_c + kKelvin, 4); }

/// What cloud leaves of the long-wave loss, from the share of clear-sky radiation that came through. FAO-56 has no
/// floor: there the sky warms the ground on dark days. The floor is that of ASCE-EWRI 2005, equations 18 and 45.
double cloud_factor_of(double clear_share) { return std::clamp(1.35 * clear_share - 0.35, 0.05, 1.0); }

/// Share of clear-sky radiation that came through, at most 1.
double clear_share_of(double radiation, double clear_sky) {
  return clear_sky > 0 ? std::min(radiation / clear_sky, 1.0) : 1.0;
}

/// Penman-Monteith for short grass. `wind_term` is 900 a day, 37 an hour; `resistance` 0.34, or by hour and form.
void combine(Evaporation& e, double temperature_c, double wind, double wind_term, double resistance) {
  e.net_mj_m2 = e.net_short_mj_m2 - e.net_long_mj_m2;
  const double energy = kMmPerMj * e.slope_kpa_k * (e.net_mj_m2 - e.ground_heat_mj_m2);
  const double air = e.psychrometric_kpa_k * wind_term / (temperature_c + 273) * wind * e.deficit_kpa;
  e.reference_mm = std::max(0.0, (energy + air) / (e.slope_kpa_k + e.psychrometric_kpa_k * (1 + resistance * wind)));
}

}  // namespace

double wind_at_2m_m_s(double wind_m_s, double height_m) { return wind_m_s * 4.87 / std::log(67.8 * height_m - 5.42); }

double radiation_from_range_mj_m2(double tmin_c, double tmax_c, double latitude_deg, int day_of_year,
                                  double elevation_m, double k) {
  const double outside = extraterrestrial_mj_m2(latitude_deg, day_of_year);
  return std::min(k * std::sqrt(std::max(tmax_c - tmin_c, 0.0)) * outside, clear_sky_mj_m2(outside, elevation_m));
}

double ground_heat_of_month_mj_m2(double mean_c, double previous_mean_c) { return 0.14 * (mean_c - previous_mean_c); }

Evaporation reference_evaporation(const EvaporationDay& day) {
  const double mean_c = (day.tmin_c + day.tmax_c) / 2;
  Evaporation e{};
  e.extraterrestrial_mj_m2 = extraterrestrial_mj_m2(day.latitude_deg, day.day_of_year);
  e.clear_sky_mj_m2 = clear_sky_mj_m2(e.extraterrestrial_mj_m2, day.elevation_m);
  e.net_short_mj_m2 = (1 - kAlbedo) * day.radiation_mj_m2;
  e.net_long_mj_m2 = net_long(kStefanBoltzmann_mj_day, (fourth_power(day.tmin_c) + fourth_power(day.tmax_c)) / 2,
                              day.vapour_kpa, cloud_factor_of(clear_share_of(day.radiation_mj_m2, e.clear_sky_mj_m2)));
  e.ground_heat_mj_m2 = day.ground_heat_mj_m2;
  e.slope_kpa_k = saturation_slope_kpa_k(mean_c);
  e.psychrometric_kpa_k = psychrometric_constant_kpa_k(air_pressure_kpa(day.elevation_m));
  e.saturation_kpa = daily_saturation_kpa(day.tmin_c, day.tmax_c);
  e.deficit_kpa = e.saturation_kpa - day.vapour_kpa;
  combine(e, mean_c, day.wind_2m_m_s, 900, 0.34);
  return e;
}

Evaporation reference_evaporation(const EvaporationHour& hour, HourlyForm form) {
  constexpr double kUnknownNight = 0.5;  // share of clear sky where nothing is known of the evening
  Evaporation e{};
  e.extraterrestrial_mj_m2 = extraterrestrial_mj_m2(hour.latitude_deg, hour.day_of_year, hour.solar_hour, 1);
  e.clear_sky_mj_m2 = clear_sky_mj_m2(e.extraterrestrial_mj_m2, hour.elevation_m);
  const bool night = e.extraterrestrial_mj_m2 <= 0;
  const double clear = hour.clear_share ? std::min(*hour.clear_share, 1.0)
                       : night          ? kUnknownNight
                                        : clear_share_of(hour.radiation_mj_m2, e.clear_sky_mj_m2);
  const bool asce = form == HourlyForm::asce_2005;
  e.net_short_mj_m2 = (1 - kAlbedo) * hour.radiation_mj_m2;
  e.net_long_mj_m2 =
      net_long(kStefanBoltzmann_mj_day / 24, fourth_power(hour.temperature_c), hour.vapour_kpa, cloud_factor_of(clear));
  e.ground_heat_mj_m2 = (night ? 0.5 : 0.1) * (e.net_short_mj_m2 - e.net_long_mj_m2);
  e.slope_kpa_k = saturation_slope_kpa_k(hour.temperature_c);
  e.psychrometric_kpa_k = psychrometric_constant_kpa_k(air_pressure_kpa(hour.elevation_m));
  e.saturation_kpa = saturation_kpa(hour.temperature_c);
  e.deficit_kpa = e.saturation_kpa - hour.vapour_kpa;
  combine(e, hour.temperature_c, hour.wind_2m_m_s, 37, asce ? (night ? 0.96 : 0.24) : 0.34);
  return e;
}

double temperature_only_evaporation_mm(double tmin_c, double tmax_c, double latitude_deg, int day_of_year) {
  const double mean_c = (tmin_c + tmax_c) / 2;
  const double potential = 0.0023 * (mean_c + 17.8) * std::sqrt(std::max(tmax_c - tmin_c, 0.0)) * kMmPerMj *
                           extraterrestrial_mj_m2(latitude_deg, day_of_year);
  return std::max(potential, 0.0);
}

WetSurfaceEvaporation wet_surface_evaporation(const WetSurface& surface) {
  constexpr double kKarman = 0.4;
  constexpr double kVapourRatio = 0.622;  // weight of water vapour over that of air
  constexpr double kAirHeat_j_kg_k = 1005;
  constexpr double kWater_kg_m3 = 997;
  constexpr double kHeight_m = 2;
  constexpr double kMmDayPerMs = 86400 * 1000.0;
  const double latent_j_kg = 2.501e6 - 2370 * surface.temperature_c;
  const double pressure_pa = surface.pressure_kpa * 1000;
  const double air_kg_m3 = pressure_pa / (287.05 * (surface.temperature_c + 273.15));
  const double slope_pa = saturation_slope_kpa_k(surface.temperature_c) * 1000;
  const double deficit_pa = vapour_deficit_kpa(surface.temperature_c, surface.humidity_pct) * 1000;
  const double psychrometric_pa = kAirHeat_j_kg_k * pressure_pa / (kVapourRatio * latent_j_kg);
  const double profile = std::log(kHeight_m / surface.roughness_m);

  WetSurfaceEvaporation e{};
  e.by_energy_mm = surface.net_radiation_w_m2 / (latent_j_kg * kWater_kg_m3) * kMmDayPerMs;
  e.by_wind_mm = kVapourRatio * kKarman * kKarman * air_kg_m3 * surface.wind_2m_m_s * deficit_pa /
                 (pressure_pa * kWater_kg_m3 * profile * profile) * kMmDayPerMs;
  const double share = slope_pa / (slope_pa + psychrometric_pa);
  e.combined_mm = share * e.by_energy_mm + (1 - share) * e.by_wind_mm;
  e.priestley_taylor_mm = 1.3 * share * e.by_energy_mm;
  return e;
}

}  // namespace strikebed::climate
