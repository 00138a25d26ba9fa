// Published checks of the sun: where it stands, when it rises, how much light it brings.
#include <numbers>

#include "climate/evapotranspiration.hpp"
#include "climate/sun.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

constexpr double kRadiansPerDegree = std::numbers::pi / 180;

climate::Site site_of(const CheckInputs& in) {
  return {in.number("latitude_deg"), in.has("longitude_deg") ? in.number("longitude_deg") : 0,
          in.has("elevation_m") ? in.number("elevation_m") : 0};
}

climate::Instant instant_of(const CheckInputs& in) {
  return in.date("utc_date") + std::chrono::seconds(in.whole("utc_second"));
}

Computed sun_position(const CheckInputs& in) {
  const climate::SunPosition sun =
      climate::sun_position(instant_of(in), site_of(in), {in.number("pressure_kpa"), in.number("temperature_c")});
  Computed out;
  out.add("zenith_deg", 90 - sun.elevation_deg);
  out.add("elevation_deg", sun.elevation_deg);
  out.add("azimuth_deg", sun.azimuth_deg);
  return out;
}

std::string words_of(climate::SunState state) {
  switch (state) {
    case climate::SunState::rises_and_sets:
      return "rises and sets";
    case climate::SunState::polar_night:
      return "polar night";
    case climate::SunState::midnight_sun:
      return "midnight sun";
  }
  return "";
}

/// Hours on the local clock after the local midnight that begins the date.
Computed sun_events(const CheckInputs& in) {
  const double offset_h = in.number("utc_offset_h");
  Computed out;
  for (const std::string& text : in.texts("local_date")) {
    const auto date = parse_iso_date(text);
    if (!date) return in.give_up("not a date: " + text);
    const climate::SunEvents events = climate::sun_events(*date, site_of(in), offset_h);
    const auto on_the_clock = [&](climate::Instant instant) {
      return std::chrono::duration<double, std::ratio<3600>>(instant - *date).count() + offset_h;
    };
    out.add("state", words_of(events.state));
    out.add("noon_h", on_the_clock(events.noon));
    out.add("day_length_h", events.day_length_h);
    if (events.sunrise) out.add("sunrise_h", on_the_clock(*events.sunrise));
    if (events.sunset) out.add("sunset_h", on_the_clock(*events.sunset));
  }
  return out;
}

Computed solar_geometry(const CheckInputs& in) {
  Computed out;
  for (const auto& [latitude, day] : in.rows<2>({"latitude_deg", "day_of_year"})) {
    const int day_of_year = static_cast<int>(day);
    out.add("distance_factor", climate::sun_distance_factor(day_of_year));
    out.add("declination_rad", climate::declination_rad(day_of_year));
    out.add("sunset_angle_rad", climate::sunset_angle_rad(latitude, day_of_year));
    out.add("sunshine_at_most_h", climate::sunshine_at_most_h(latitude, day_of_year));
    out.add("extraterrestrial_mj_m2", climate::extraterrestrial_mj_m2(latitude, day_of_year));
    out.add("day_length_h", climate::day_length_h(latitude, day_of_year));
  }
  return out;
}

Computed radiation_from_sunshine(const CheckInputs& in) {
  Computed out;
  for (const auto& [sunshine, latitude, day] : in.rows<3>({"sunshine_h", "latitude_deg", "day_of_year"}))
    out.add("radiation_mj_m2", climate::radiation_from_sunshine_mj_m2(sunshine, latitude, static_cast<int>(day)));
  return out;
}

Computed radiation_from_range(const CheckInputs& in) {
  Computed out;
  out.add("radiation_mj_m2",
          climate::radiation_from_range_mj_m2(in.number("tmin_c"), in.number("tmax_c"), in.number("latitude_deg"),
                                              in.whole("day_of_year"), in.number("elevation_m"), in.number("k")));
  return out;
}

Computed solar_time(const CheckInputs& in) {
  Computed out;
  out.add("solar_hour", climate::solar_time_h(in.number("clock_h"), in.number("longitude_deg"),
                                              in.number("zone_longitude_deg"), in.whole("day_of_year")));
  return out;
}

Computed clear_sky(const CheckInputs& in) {
  Computed out;
  for (const double zenith : in.numbers("zenith_deg")) out.add("radiation_w_m2", climate::clear_sky_w_m2(zenith));
  return out;
}

Computed hourly_light_share(const CheckInputs& in) {
  Computed out;
  for (const auto& [hour, sunset] : in.rows<2>({"hour_angle_deg", "sunset_angle_deg"}))
    out.add("share", climate::hourly_light_share(hour * kRadiansPerDegree, sunset * kRadiansPerDegree));
  return out;
}

Computed hourly_light(const CheckInputs& in) {
  const double daily = in.number("radiation_mj_m2");
  Computed out;
  double total = 0;
  for (const double share : climate::hourly_light_shares(in.number("latitude_deg"), in.whole("day_of_year"))) {
    out.add("hour_mj_m2", share * daily);
    total += share * daily;
  }
  out.add("total_mj_m2", total);
  return out;
}

Computed daily_light(const CheckInputs& in) {
  Computed out;
  for (const double radiation : in.numbers("radiation_mj_m2"))
    out.add("light_mol_m2", climate::daily_light_mol_m2(radiation));
  return out;
}

Computed daily_light_of_lamp(const CheckInputs& in) {
  Computed out;
  for (const auto& [flux, hours] : in.rows<2>({"flux_umol_m2_s", "hours"}))
    out.add("light_mol_m2", climate::daily_light_of_lamp_mol_m2(flux, hours));
  return out;
}

}  // namespace

Computations sun_computations() {
  return {{"sun_position", sun_position},
          {"sun_events", sun_events},
          {"solar_geometry", solar_geometry},
          {"radiation_from_sunshine", radiation_from_sunshine},
          {"radiation_from_range", radiation_from_range},
          {"solar_time", solar_time},
          {"clear_sky", clear_sky},
          {"hourly_light_share", hourly_light_share},
          {"hourly_light", hourly_light},
          {"daily_light", daily_light},
          {"daily_light_of_lamp", daily_light_of_lamp}};
}

}  // namespace strikebed::nursery
