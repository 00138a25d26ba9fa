#pragma once
// Water that well-watered short grass gives off: the yardstick for open frames and rooted pots.
// docs/methods/evapotranspiration.md
// Source, unless said otherwise: Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56 (FAO-56).
#include <optional>

namespace strikebed::climate {

/// Wind at 2 m, m/s, from wind measured over short grass at another height (> 0.1 m).
[[nodiscard]] double wind_at_2m_m_s(double wind_m_s, double height_m);

/// Radiation, MJ/m2 a day, from the day's temperature range: k sqrt(tmax - tmin) Ra, at most that of a clear day.
///   k  0.16 inland, 0.19 near a coast (kHargreavesInland, kHargreavesCoast);  tmax_c >= tmin_c
/// Accuracy: 20-25 % a day, 10 % a month. Source: Hargreaves & Samani 1982, as in FAO-56 equation 50.
[[nodiscard]] double radiation_from_range_mj_m2(double tmin_c, double tmax_c, double latitude_deg, int day_of_year,
                                                double elevation_m, double k);
inline constexpr double kHargreavesInland = 0.16;
inline constexpr double kHargreavesCoast = 0.19;

/// Heat into the ground in a month, MJ/m2 a day, from this and the previous month's mean temperature.
[[nodiscard]] double ground_heat_of_month_mj_m2(double mean_c, double previous_mean_c);

/// What a day's evapotranspiration is computed from.
struct EvaporationDay {
  double latitude_deg;
  double elevation_m;
  int day_of_year;
  double tmin_c;
  double tmax_c;
  double vapour_kpa;
  double wind_2m_m_s;
  double radiation_mj_m2;
  double ground_heat_mj_m2 = 0;  ///< 0 for a single day
};

/// The same with every step, so that each can be shown and checked. Radiation and heat in MJ/m2 over the period.
struct Evaporation {
  double extraterrestrial_mj_m2;
  double clear_sky_mj_m2;
  double net_short_mj_m2;
  double net_long_mj_m2;
  double net_mj_m2;
  double ground_heat_mj_m2;
  double slope_kpa_k;
  double psychrometric_kpa_k;
  double saturation_kpa;
  double deficit_kpa;
  double reference_mm;  ///< over the period; never below 0
};

/// FAO-56 Penman-Monteith over a day, mm; the long-wave loss never falls below that under dense cloud (ASCE-EWRI 2005).
[[nodiscard]] Evaporation reference_evaporation(const EvaporationDay& day);

/// The two standard hourly forms: they differ in the surface resistance.
enum class HourlyForm { fao_1998, asce_2005 };

struct EvaporationHour {
  double latitude_deg;
  double elevation_m;
  int day_of_year;
  double solar_hour;  ///< middle of the hour, noon at 12 (climate/sun.hpp, solar_time_h)
  double temperature_c;
  double vapour_kpa;
  double wind_2m_m_s;
  double radiation_mj_m2;             ///< in the hour
  std::optional<double> clear_share;  ///< radiation over clear-sky radiation; needed at night (late afternoon's)
};

/// Over one hour, mm. Night is an hour in which the sun stays down; without clear_share it is taken as half clear
/// (0.5). Source: FAO-56 equation 53; ASCE-EWRI 2005, The ASCE Standardized Reference Evapotranspiration Equation.
[[nodiscard]] Evaporation reference_evaporation(const EvaporationHour& hour, HourlyForm form = HourlyForm::fao_1998);

/// From temperature alone, mm a day, +-20 %: 0.0023 (Tmean + 17.8) sqrt(tmax - tmin) 0.408 Ra.
/// Source: Hargreaves & Samani 1985, Appl. Eng. Agric. 1:96-99; FAO-56 equation 52.
[[nodiscard]] double temperature_only_evaporation_mm(double tmin_c, double tmax_c, double latitude_deg,
                                                     int day_of_year);

/// Evaporation of open water or a wet bench by its two limits and their combination, mm a day.
struct WetSurface {
  double net_radiation_w_m2;
  double temperature_c;
  double humidity_pct;
  double wind_2m_m_s;
  double roughness_m;  ///< of the surface; 0.0003 for calm water
  double pressure_kpa = 101.3;
};
struct WetSurfaceEvaporation {
  double by_energy_mm;
  double by_wind_mm;
  double combined_mm;
  double priestley_taylor_mm;  ///< 1.3 times the radiation term, where wind and humidity are unknown
};
/// Source: Chow, Maidment & Mays 1988, Applied Hydrology, section 3.5.
[[nodiscard]] WetSurfaceEvaporation wet_surface_evaporation(const WetSurface& surface);

}  // namespace strikebed::climate
