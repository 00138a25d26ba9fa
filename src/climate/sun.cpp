// Follows Meeus 1998, chapter 25, except: universal time for dynamical time (70 s, 0.001 degrees of the sun's path).
#include "climate/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace strikebed::climate {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRadian = kPi / 180;
constexpr double kHorizon_deg = -0.8333;  // centre of the sun when its upper limb touches the horizon
constexpr double kSolarConstant_mj_m2_min = 0.0820;
constexpr double kUnixEpochJulianDay = 2440587.5;

double julian_day(Instant utc) {
  return kUnixEpochJulianDay + static_cast<double>(utc.time_since_epoch().count()) / 86400;
}

Instant instant_of(double julian) {
  return Instant{std::chrono::seconds{std::llround((julian - kUnixEpochJulianDay) * 86400)}};
}

/// An angle brought to -180...180 degrees.
double centred(double degrees) { return std::remainder(degrees, 360); }

struct SkyPlace {
  double declination_rad;
  double hour_angle_deg;  ///< west of the meridian, -180...180
};

SkyPlace sky_place(double julian, double longitude_deg) {
  const double days = julian - 2451545;
  const double t = days / 36525;
  const double mean_longitude = 280.46646 + t * (36000.76983 + t * 0.0003032);
  const double anomaly = (357.52911 + t * (35999.05029 - t * 0.0001537)) * kRadian;
  const double centre = (1.914602 - t * (0.004817 + t * 0.000014)) * std::sin(anomaly) +
                        (0.019993 - t * 0.000101) * std::sin(2 * anomaly) + 0.000289 * std::sin(3 * anomaly);
  const double node = (125.04 - 1934.136 * t) * kRadian;
  const double nutation = -0.00478 * std::sin(node);
  const double longitude = (mean_longitude + centre - 0.00569 + nutation) * kRadian;
  const double obliquity =
      (23.4392911 - t * (0.0130042 + t * (1.64e-7 - t * 5.04e-7)) + 0.00256 * std::cos(node)) * kRadian;
  const double right_ascension = std::atan2(std::cos(obliquity) * std::sin(longitude), std::cos(longitude)) / kRadian;
  const double sidereal =
      280.46061837 + 360.98564736629 * days + t * t * (0.000387933 - t / 38710000) + nutation * std::cos(obliquity);
  return {std::asin(std::sin(obliquity) * std::sin(longitude)), centred(sidereal + longitude_deg - right_ascension)};
}

/// Refraction, degrees, at a true elevation above -0.83 degrees (Saemundsson's formula, Meeus 1998, chapter 16).
double refraction_deg(double elevation_deg, const SkyAir& air) {
  const double bend = 1.02 / 60 / std::tan((elevation_deg + 10.3 / (elevation_deg + 5.11)) * kRadian);
  return bend * air.pressure_kpa / 101 * 283 / (273 + air.temperature_c);
}

/// cos of the hour angle at which the sun's centre stands at kHorizon_deg; beyond +-1 it never does.
double cos_horizon_angle(double latitude_rad, double declination) {
  return (std::sin(kHorizon_deg * kRadian) - std::sin(latitude_rad) * std::sin(declination)) /
         (std::cos(latitude_rad) * std::cos(declination));
}

SunState state_at(double cos_angle) {
  if (cos_angle > 1) return SunState::polar_night;
  return cos_angle < -1 ? SunState::midnight_sun : SunState::rises_and_sets;
}

/// Moves `julian` to where the hour angle is `side` (-1 rise, 0 noon, +1 set) times the horizon's, with the sun's place
/// taken at the event itself.
struct Crossing {
  double julian;
  SunState state = SunState::rises_and_sets;
};
Crossing crossing(double julian, const Site& site, int side) {
  for (int step = 0; step < 8; ++step) {
    const SkyPlace sun = sky_place(julian, site.longitude_deg);
    double wanted = 0;
    if (side != 0) {
      const double cos_angle = cos_horizon_angle(site.latitude_deg * kRadian, sun.declination_rad);
      if (state_at(cos_angle) != SunState::rises_and_sets) return {julian, state_at(cos_angle)};
      wanted = side * std::acos(cos_angle) / kRadian;
    }
    julian -= centred(sun.hour_angle_deg - wanted) / 360;
  }
  return {julian};
}

}  // namespace

SunPosition sun_position(Instant utc, const Site& site, const SkyAir& air) {
  const SkyPlace sun = sky_place(julian_day(utc), site.longitude_deg);
  const double latitude = site.latitude_deg * kRadian;
  const double hour_angle = sun.hour_angle_deg * kRadian;
  const double sine = std::sin(latitude) * std::sin(sun.declination_rad) +
                      std::cos(latitude) * std::cos(sun.declination_rad) * std::cos(hour_angle);
  double elevation = std::asin(std::clamp(sine, -1.0, 1.0)) / kRadian;
  elevation -= 0.0024 * std::cos(elevation * kRadian);  // parallax
  if (elevation > -0.83) elevation += refraction_deg(elevation, air);
  const double azimuth =
      180 + std::atan2(std::sin(hour_angle),
                       std::cos(hour_angle) * std::sin(latitude) - std::tan(sun.declination_rad) * std::cos(latitude)) /
                kRadian;
  return {elevation, azimuth >= 360 ? azimuth - 360 : azimuth};
}

SunEvents sun_events(Date local_date, const Site& site, double utc_offset_h) {
  // The noon nearest to the middle of the local day falls on the local date on any clock within half a day of the sun.
  const double midday =
      kUnixEpochJulianDay + static_cast<double>(local_date.time_since_epoch().count()) + 0.5 - utc_offset_h / 24;
  const double noon = crossing(midday, site, 0).julian;
  SunEvents events{SunState::rises_and_sets, instant_of(noon), std::nullopt, std::nullopt, 0};
  const double cos_angle = cos_horizon_angle(site.latitude_deg * kRadian, sky_place(noon, 0).declination_rad);
  events.state = state_at(cos_angle);
  if (events.state == SunState::rises_and_sets) {
    const double half_day = std::acos(cos_angle) / (2 * kPi);
    const Crossing rise = crossing(noon - half_day, site, -1);
    const Crossing set = crossing(noon + half_day, site, 1);
    if (rise.state == SunState::rises_and_sets && set.state == SunState::rises_and_sets) {
      events.sunrise = instant_of(rise.julian);
      events.sunset = instant_of(set.julian);
      events.day_length_h = (set.julian - rise.julian) * 24;
      return events;
    }
    events.state = rise.state != SunState::rises_and_sets ? rise.state : set.state;
  }
  events.day_length_h = events.state == SunState::midnight_sun ? 24 : 0;
  return events;
}

double day_length_h(double latitude_deg, int day_of_year) {
  const double theta = 0.2163108 + 2 * std::atan(0.9671396 * std::tan(0.00860 * (day_of_year - 186)));
  const double declination = std::asin(0.39795 * std::cos(theta));
  const double cos_angle = cos_horizon_angle(latitude_deg * kRadian, declination);
  return 24 / kPi * std::acos(std::clamp(cos_angle, -1.0, 1.0));
}

double sun_distance_factor(int day_of_year) { return 1 + 0.033 * std::cos(2 * kPi * day_of_year / 365); }

double declination_rad(int day_of_year) { return 0.409 * std::sin(2 * kPi * day_of_year / 365 - 1.39); }

double sunset_angle_rad(double latitude_deg, int day_of_year) {
  const double cosine = -std::tan(latitude_deg * kRadian) * std::tan(declination_rad(day_of_year));
  return std::acos(std::clamp(cosine, -1.0, 1.0));
}

double sunshine_at_most_h(double latitude_deg, int day_of_year) {
  return 24 / kPi * sunset_angle_rad(latitude_deg, day_of_year);
}

double extraterrestrial_mj_m2(double latitude_deg, int day_of_year) {
  return extraterrestrial_mj_m2(latitude_deg, day_of_year, 12, 24);
}

double extraterrestrial_mj_m2(double latitude_deg, int day_of_year, double solar_hour, double length_h) {
  const double latitude = latitude_deg * kRadian;
  const double declination = declination_rad(day_of_year);
  const double sunset = sunset_angle_rad(latitude_deg, day_of_year);
  const double begin = std::clamp((solar_hour - length_h / 2 - 12) * kPi / 12, -sunset, sunset);
  const double end = std::clamp((solar_hour + length_h / 2 - 12) * kPi / 12, -sunset, sunset);
  return 12 * 60 / kPi * kSolarConstant_mj_m2_min * sun_distance_factor(day_of_year) *
         ((end - begin) * std::sin(latitude) * std::sin(declination) +
          std::cos(latitude) * std::cos(declination) * (std::sin(end) - std::sin(begin)));
}

double solar_time_h(double clock_h, double longitude_deg, double zone_longitude_deg, int day_of_year) {
  const double b = 2 * kPi * (day_of_year - 81) / 364;
  const double season_h = 0.1645 * std::sin(2 * b) - 0.1255 * std::cos(b) - 0.025 * std::sin(b);
  return clock_h + (longitude_deg - zone_longitude_deg) / 15 + season_h;
}

double clear_sky_mj_m2(double extraterrestrial, double elevation_m) {
  return (0.75 + 2e-5 * elevation_m) * extraterrestrial;
}

double radiation_from_sunshine_mj_m2(double sunshine_h, double latitude_deg, int day_of_year) {
  const double most = sunshine_at_most_h(latitude_deg, day_of_year);
  if (most <= 0) return 0;
  return (0.25 + 0.5 * sunshine_h / most) * extraterrestrial_mj_m2(latitude_deg, day_of_year);
}

double clear_sky_w_m2(double zenith_deg) {
  const double cosine = std::cos(zenith_deg * kRadian);
  return cosine <= 0 ? 0 : 1098 * cosine * std::exp(-0.059 / cosine);
}

double hourly_light_share(double hour_angle_rad, double sunset_angle_rad) {
  const double a = 0.409 + 0.5016 * std::sin(sunset_angle_rad - kPi / 3);
  const double b = 0.6609 - 0.4767 * std::sin(sunset_angle_rad - kPi / 3);
  const double share = kPi / 24 * (a + b * std::cos(hour_angle_rad)) *
                       (std::cos(hour_angle_rad) - std::cos(sunset_angle_rad)) /
                       (std::sin(sunset_angle_rad) - sunset_angle_rad * std::cos(sunset_angle_rad));
  return std::abs(hour_angle_rad) < sunset_angle_rad ? std::max(share, 0.0) : 0;
}

std::array<double, 24> hourly_light_shares(double latitude_deg, int day_of_year) {
  const double sunset = sunset_angle_rad(latitude_deg, day_of_year);
  // cos of the hour angle at which the sun would set: below -1 it never does
  const double cos_sunset = -std::tan(latitude_deg * kRadian) * std::tan(declination_rad(day_of_year));
  std::array<double, 24> shares{};
  double sum = 0;
  for (std::size_t h = 0; h < 24; ++h) {
    double hour_angle = (static_cast<double>(h) + 0.5 - 12) * kPi / 12;
    if (cos_sunset < -1) {
      const double height = (std::cos(hour_angle) - cos_sunset) / (1 - cos_sunset);  // of the sun, of that at noon
      hour_angle = std::acos(std::clamp(2 * height - 1, -1.0, 1.0));
    }
    shares[h] = hourly_light_share(hour_angle, sunset);
    sum += shares[h];
  }
  if (sum > 0) {
    for (double& share : shares) share /= sum;
  } else if (sunset > 0) {
    shares[11] = shares[12] = 0.5;  // a day shorter than an hour, all of it about noon
  }
  return shares;
}

double daily_light_mol_m2(double radiation_mj_m2) { return radiation_mj_m2 * kParShare * kPhotonsPerJoule; }

double daily_light_of_lamp_mol_m2(double flux_umol_m2_s, double hours) { return flux_umol_m2_s * hours * 3600 * 1e-6; }

}  // namespace strikebed::climate
