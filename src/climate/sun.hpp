#pragma once
// Where the sun is, how long the day is, and how much light it can bring. docs/methods/sun.md
#include <array>
#include <chrono>
#include <optional>

#include "base/date.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

using Instant = std::chrono::sys_seconds;  ///< UTC

struct SunPosition {
  double elevation_deg;  ///< above the horizon, with refraction where the sun is up; negative below
  double azimuth_deg;    ///< from north over east, 0-360
};

/// The air that bends the light; only its refraction matters, a tenth of a degree near the horizon.
struct SkyAir {
  double pressure_kpa = 101.3;
  double temperature_c = 12;
};

/// Range: 1950-2050, everywhere. Accuracy: 0.006 degrees in elevation, 0.011 in azimuth against two almanac programs.
/// Source: Meeus 1998, Astronomical Algorithms, chapters 12, 16 and 25, low-accuracy series.
[[nodiscard]] SunPosition sun_position(Instant utc, const Site& site, const SkyAir& air = {});

enum class SunState { rises_and_sets, polar_night, midnight_sun };

/// One local day of the sun: its noon, and the sunrise before and the sunset after it.
struct SunEvents {
  SunState state;
  Instant noon;                    ///< the sun's highest point; it falls on the local date
  std::optional<Instant> sunrise;  ///< upper limb on a level horizon, 34' of refraction; nothing in polar day or night
  std::optional<Instant> sunset;
  double day_length_h;  ///< 0 in polar night, 24 under the midnight sun
};

/// The events of a *local* date, never of a UTC date: west of Greenwich the evening of a local day lies in the next UTC
/// day.
///   utc_offset_h  of the local clock on that date, -12...14; where only the place matters, longitude / 15
/// Accuracy: 6 s against almanac programs up to 65 degrees of latitude (the slower the sun sinks, the more a hundredth
/// of a degree costs), minutes on the days when it only grazes the horizon. Source: Meeus 1998, chapter 15.
[[nodiscard]] SunEvents sun_events(Date local_date, const Site& site, double utc_offset_h);

/// Length of the day, h, without a year: upper limb on a horizon with 34' of refraction; 0 in polar night, 24 under the
/// midnight sun.
///   latitude_deg  -90...90 (south negative);  day_of_year  1-366
/// Accuracy: within 4 minutes of sun_events to 40 degrees of latitude, 8 minutes to 60 degrees.
/// Source: Forsythe et al. 1995, Ecological Modelling 80:87-95 (CBM), p = 0.8333 degrees.
[[nodiscard]] double day_length_h(double latitude_deg, int day_of_year);

// ---- Daily and hourly radiation. Latitudes in degrees, day of the year 1-366.
// Source, unless said otherwise: Allen, Pereira, Raes & Smith 1998, FAO Irrigation and Drainage Paper 56, equations
// 21-37.

[[nodiscard]] double sun_distance_factor(int day_of_year);                          ///< (mean / actual distance)^2
[[nodiscard]] double declination_rad(int day_of_year);                              ///< of the sun
[[nodiscard]] double sunset_angle_rad(double latitude_deg, int day_of_year);        ///< 0 polar night, pi midnight sun
[[nodiscard]] double sunshine_at_most_h(double latitude_deg, int day_of_year);      ///< N, hours
[[nodiscard]] double extraterrestrial_mj_m2(double latitude_deg, int day_of_year);  ///< Ra, a day

/// Ra of a part of the day, MJ/m2, centred on a solar hour (noon at 12) and `length_h` long; dark parts count nothing.
[[nodiscard]] double extraterrestrial_mj_m2(double latitude_deg, int day_of_year, double solar_hour, double length_h);

/// Solar time, h, from the clock of a zone whose meridian is zone_longitude_deg (15 x its offset from UTC).
[[nodiscard]] double solar_time_h(double clock_h, double longitude_deg, double zone_longitude_deg, int day_of_year);

/// Radiation of a clear day or hour, same unit as `extraterrestrial`: (0.75 + 2e-5 z) Ra.
[[nodiscard]] double clear_sky_mj_m2(double extraterrestrial, double elevation_m);

/// Radiation from hours of bright sunshine: (0.25 + 0.5 n / N) Ra. 0 <= sunshine_h <= N.
[[nodiscard]] double radiation_from_sunshine_mj_m2(double sunshine_h, double latitude_deg, int day_of_year);

/// Global radiation under a clear sky, W/m2; 0 when the sun is down. zenith_deg 0-180.
/// Source: Haurwitz 1945, J. Meteorol. 2:154-166, exponent 0.059.
[[nodiscard]] double clear_sky_w_m2(double zenith_deg);

/// Share of the day's radiation that falls in an hour about a solar hour angle, before the day is closed to 1.
///   hour_angle_rad  0 at noon;  sunset_angle_rad  > 0
/// Source: Collares-Pereira & Rabl 1979, Solar Energy 22:155-164.
[[nodiscard]] double hourly_light_share(double hour_angle_rad, double sunset_angle_rad);

/// The 24 solar hours' shares of the day's radiation; they add up to 1, or are all 0 in polar night. Under the midnight
/// sun, for which the source was not made, an hour counts by how high the sun stands compared with noon, in place of
/// the hour angle's cosine: the same on the first such day, and alike in all hours at the pole.
[[nodiscard]] std::array<double, 24> hourly_light_shares(double latitude_deg, int day_of_year);

// ---- Light for plants. Source: McCree 1972, Agric. Meteorol. 10:443-453; Thimijan & Heins 1983, HortScience
// 18:818-822.

inline constexpr double kParShare = 0.45;         ///< of global radiation, 0.43-0.50
inline constexpr double kPhotonsPerJoule = 4.57;  ///< micromol of photons per joule of daylight PAR

/// Daily light, mol/m2, from a day's radiation. +-5 %: published maps use 1.96 mol/MJ where this has 2.06.
[[nodiscard]] double daily_light_mol_m2(double radiation_mj_m2);

/// Daily light, mol/m2, of a constant photon flux, micromol/m2/s, over some hours.
[[nodiscard]] double daily_light_of_lamp_mol_m2(double flux_umol_m2_s, double hours);

}  // namespace strikebed::climate
