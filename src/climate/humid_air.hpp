#pragma once
// Water vapour in air. Temperatures °C, pressures kPa, relative humidity per cent (0-100). Range 0-50 °C unless
// said otherwise. docs/methods/humid-air.md Source, unless said otherwise: Allen et al. 1998, FAO Irrigation and
// Drainage Paper 56, equations 7-19.
#include <optional>

namespace strikebed::climate {

/// Saturation vapour pressure over water: 0.6108 exp[17.27 T / (T + 237.3)]. -40...60 °C, within 0.11 % of the ASHRAE
/// formula from 1 to 40 °C.
[[nodiscard]] double saturation_kpa(double temperature_c);
[[nodiscard]] double saturation_slope_kpa_k(double temperature_c);

/// Mean of the saturation pressures at the day's extremes; that of the mean temperature would be too low.
[[nodiscard]] double daily_saturation_kpa(double tmin_c, double tmax_c);

[[nodiscard]] double vapour_kpa(double temperature_c, double humidity_pct);
[[nodiscard]] double dew_point_c(double vapour_pressure_kpa);  ///< vapour pressure > 0
[[nodiscard]] double air_pressure_kpa(double elevation_m);     ///< standard air, -400...9000 m
[[nodiscard]] double psychrometric_constant_kpa_k(double pressure_kpa);

/// How much more vapour the air could hold. A sensor good to 3 % relative humidity says nothing at 97 %.
[[nodiscard]] double vapour_deficit_kpa(double temperature_c, double humidity_pct);

/// The same at a leaf warmer or cooler than the air; negative when dew forms on it.
[[nodiscard]] double leaf_vapour_deficit_kpa(double leaf_c, double air_c, double humidity_pct);

/// Relative humidity at which the air has this deficit; below 0 when it cannot have it.
[[nodiscard]] double humidity_for_deficit_pct(double temperature_c, double deficit_kpa);

/// Does water condense on a surface in this air?
[[nodiscard]] bool condenses(double surface_c, double air_c, double humidity_pct);

/// Day's vapour pressure from the relative humidity's extremes: the highest at dawn, the lowest in the afternoon.
[[nodiscard]] double vapour_from_extremes_kpa(double tmin_c, double tmax_c, double humidity_max_pct,
                                              double humidity_min_pct);
/// The same from the day's highest, and from its mean, relative humidity.
[[nodiscard]] double vapour_from_highest_kpa(double tmin_c, double humidity_max_pct);
[[nodiscard]] double vapour_from_mean_kpa(double tmin_c, double tmax_c, double humidity_mean_pct);

/// Coefficient of a wet thermometer by how its air moves, 1/K.
inline constexpr double kVentilated = 0.000662;
inline constexpr double kNaturalDraught = 0.0008;
inline constexpr double kStillIndoors = 0.0012;

[[nodiscard]] double vapour_from_wet_bulb_kpa(double dry_c, double wet_c, double pressure_kpa,
                                              double coefficient = kVentilated);

/// What a wet thermometer shows; nothing below freezing, where ice and not a wet bulb is what matters.
/// Accuracy: 0.02 K (humid) to 0.13 K (dry air) above the adiabatic wet bulb.
[[nodiscard]] std::optional<double> wet_bulb_c(double temperature_c, double humidity_pct, double pressure_kpa = 101.3,
                                               double coefficient = kVentilated);

/// One-line wet bulb at sea level, within 1 K; the start of wet_bulb_c's iteration.
/// Source: Stull 2011, J. Appl. Meteorol. Climatol. 50:2267-2269.
[[nodiscard]] double approximate_wet_bulb_c(double temperature_c, double humidity_pct);

}  // namespace strikebed::climate
