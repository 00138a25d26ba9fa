// Published checks of humid air and of evapotranspiration.
#include "climate/evapotranspiration.hpp"
#include "climate/humid_air.hpp"
#include "climate/missing.hpp"
#include "climate/sun.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

Computed saturation(const CheckInputs& in) {
  Computed out;
  for (const double temperature : in.numbers("temperature_c")) {
    out.add("saturation_kpa", climate::saturation_kpa(temperature));
    out.add("slope_kpa_k", climate::saturation_slope_kpa_k(temperature));
  }
  return out;
}

Computed air_pressure(const CheckInputs& in) {
  Computed out;
  for (const double elevation : in.numbers("elevation_m")) {
    const double pressure = climate::air_pressure_kpa(elevation);
    out.add("pressure_kpa", pressure);
    out.add("psychrometric_kpa_k", climate::psychrometric_constant_kpa_k(pressure));
  }
  return out;
}

Computed daily_saturation(const CheckInputs& in) {
  const double tmin = in.number("tmin_c");
  const double tmax = in.number("tmax_c");
  Computed out;
  out.add("at_tmin_kpa", climate::saturation_kpa(tmin));
  out.add("at_tmax_kpa", climate::saturation_kpa(tmax));
  out.add("daily_kpa", climate::daily_saturation_kpa(tmin, tmax));
  return out;
}

Computed vapour_from_wet_bulb(const CheckInputs& in) {
  const double pressure = climate::air_pressure_kpa(in.number("elevation_m"));
  Computed out;
  out.add("pressure_kpa", pressure);
  out.add("saturation_at_wet_kpa", climate::saturation_kpa(in.number("wet_c")));
  out.add("vapour_kpa",
          climate::vapour_from_wet_bulb_kpa(in.number("dry_c"), in.number("wet_c"), pressure, climate::kVentilated));
  return out;
}

Computed vapour_from_humidity(const CheckInputs& in) {
  const double tmin = in.number("tmin_c");
  const double tmax = in.number("tmax_c");
  const double highest = in.number("humidity_max_pct");
  const double lowest = in.number("humidity_min_pct");
  Computed out;
  out.add("from_extremes_kpa", climate::vapour_from_extremes_kpa(tmin, tmax, highest, lowest));
  out.add("from_highest_kpa", climate::vapour_from_highest_kpa(tmin, highest));
  out.add("from_mean_kpa", climate::vapour_from_mean_kpa(tmin, tmax, (highest + lowest) / 2));
  return out;
}

Computed moist_air(const CheckInputs& in) {
  Computed out;
  for (const auto& [temperature, humidity] : in.rows<2>({"temperature_c", "humidity_pct"})) {
    const auto wet_bulb = climate::wet_bulb_c(temperature, humidity);
    if (!wet_bulb) return in.give_up("no wet bulb below freezing");
    out.add("wet_bulb_c", *wet_bulb);
    out.add("approximate_wet_bulb_c", climate::approximate_wet_bulb_c(temperature, humidity));
    out.add("dew_point_c", climate::dew_point_c(climate::vapour_kpa(temperature, humidity)));
    out.add("deficit_kpa", climate::vapour_deficit_kpa(temperature, humidity));
  }
  return out;
}

Computed humidity_for_deficit(const CheckInputs& in) {
  Computed out;
  for (const auto& [temperature, deficit] : in.rows<2>({"temperature_c", "deficit_kpa"}))
    out.add("humidity_pct", climate::humidity_for_deficit_pct(temperature, deficit));
  return out;
}

Computed condensation(const CheckInputs& in) {
  Computed out;
  for (const auto& [surface, air, humidity] : in.rows<3>({"surface_c", "air_c", "humidity_pct"})) {
    out.add("dew_point_c", climate::dew_point_c(climate::vapour_kpa(air, humidity)));
    out.add("condenses", climate::condenses(surface, air, humidity) ? "yes" : "no");
  }
  return out;
}

Computed wind_at_2m(const CheckInputs& in) {
  Computed out;
  for (const auto& [wind, height] : in.rows<2>({"wind_m_s", "height_m"}))
    out.add("wind_2m_m_s", climate::wind_at_2m_m_s(wind, height));
  return out;
}

Computed ground_heat_of_month(const CheckInputs& in) {
  Computed out;
  for (const auto& [mean, previous] : in.rows<2>({"mean_c", "previous_mean_c"}))
    out.add("ground_heat_mj_m2", climate::ground_heat_of_month_mj_m2(mean, previous));
  return out;
}

void add_steps(Computed& out, const climate::Evaporation& steps) {
  out.add("extraterrestrial_mj_m2", steps.extraterrestrial_mj_m2);
  out.add("clear_sky_mj_m2", steps.clear_sky_mj_m2);
  out.add("net_short_mj_m2", steps.net_short_mj_m2);
  out.add("net_long_mj_m2", steps.net_long_mj_m2);
  out.add("net_mj_m2", steps.net_mj_m2);
  out.add("ground_heat_mj_m2", steps.ground_heat_mj_m2);
  out.add("slope_kpa_k", steps.slope_kpa_k);
  out.add("psychrometric_kpa_k", steps.psychrometric_kpa_k);
  out.add("saturation_kpa", steps.saturation_kpa);
  out.add("deficit_kpa", steps.deficit_kpa);
  out.add("reference_mm", steps.reference_mm);
}

/// A day of measured sunshine hours, wind at some height, and vapour pressure as such or from humidity extremes.
Computed reference_day(const CheckInputs& in) {
  const double latitude = in.number("latitude_deg");
  const int day_of_year = in.whole("day_of_year");
  const double tmin = in.number("tmin_c");
  const double tmax = in.number("tmax_c");
  const double vapour =
      in.has("vapour_kpa")
          ? in.number("vapour_kpa")
          : climate::vapour_from_extremes_kpa(tmin, tmax, in.number("humidity_max_pct"), in.number("humidity_min_pct"));
  const double wind = climate::wind_at_2m_m_s(in.number("wind_m_s"), in.number("wind_height_m"));
  const double radiation = climate::radiation_from_sunshine_mj_m2(in.number("sunshine_h"), latitude, day_of_year);
  const double ground_heat = in.has("month_mean_c") ? climate::ground_heat_of_month_mj_m2(
                                                          in.number("month_mean_c"), in.number("previous_month_mean_c"))
                                                    : 0;
  Computed out;
  out.add("wind_2m_m_s", wind);
  out.add("vapour_kpa", vapour);
  out.add("sunshine_at_most_h", climate::sunshine_at_most_h(latitude, day_of_year));
  out.add("radiation_mj_m2", radiation);
  add_steps(
      out, climate::reference_evaporation(climate::EvaporationDay{latitude, in.number("elevation_m"), day_of_year, tmin,
                                                                  tmax, vapour, wind, radiation, ground_heat}));
  return out;
}

/// A day of which only the temperatures are known.
Computed reference_day_from_temperature(const CheckInputs& in) {
  const Date date = in.date("date");
  const climate::Site site{in.number("latitude_deg"), 0, in.number("elevation_m")};
  climate::Day day{};
  day.date = date;
  day.tmin_c = in.number("tmin_c");
  day.tmax_c = in.number("tmax_c");
  const auto full = climate::completed(day, site, climate::Setting::inland);
  if (!full) return in.give_up("the day cannot be completed");
  Computed out;
  out.add("vapour_kpa", full->vapour_kpa);
  out.add("wind_2m_m_s", full->wind_m_s);
  out.add("radiation_mj_m2", full->radiation_mj_m2);
  add_steps(out, climate::reference_evaporation(*full, site, date));
  return out;
}

Computed temperature_only_evaporation(const CheckInputs& in) {
  Computed out;
  out.add("reference_mm", climate::temperature_only_evaporation_mm(in.number("tmin_c"), in.number("tmax_c"),
                                                                   in.number("latitude_deg"), in.whole("day_of_year")));
  return out;
}

Computed reference_hours(const CheckInputs& in) {
  const std::string form = in.text("form");
  if (form != "FAO 1998" && form != "ASCE 2005") return in.give_up("there is no hourly form " + form);
  Computed out;
  for (const auto& [clock, temperature, vapour, wind, radiation] :
       in.rows<5>({"clock_h", "temperature_c", "vapour_kpa", "wind_2m_m_s", "radiation_mj_m2"})) {
    climate::EvaporationHour hour{};
    hour.latitude_deg = in.number("latitude_deg");
    hour.elevation_m = in.number("elevation_m");
    hour.day_of_year = in.whole("day_of_year");
    hour.solar_hour = climate::solar_time_h(clock, in.number("longitude_deg"), in.number("zone_longitude_deg"),
                                            in.whole("day_of_year"));
    hour.temperature_c = temperature;
    hour.vapour_kpa = vapour;
    hour.wind_2m_m_s = wind;
    hour.radiation_mj_m2 = radiation;
    add_steps(out, climate::reference_evaporation(
                       hour, form == "FAO 1998" ? climate::HourlyForm::fao_1998 : climate::HourlyForm::asce_2005));
  }
  return out;
}

Computed wet_surface(const CheckInputs& in) {
  climate::WetSurface surface{};
  surface.net_radiation_w_m2 = in.number("net_radiation_w_m2");
  surface.temperature_c = in.number("temperature_c");
  surface.humidity_pct = in.number("humidity_pct");
  surface.wind_2m_m_s = in.number("wind_2m_m_s");
  surface.roughness_m = in.number("roughness_m");
  surface.pressure_kpa = in.number("pressure_kpa");
  const auto evaporation = climate::wet_surface_evaporation(surface);
  Computed out;
  out.add("by_energy_mm", evaporation.by_energy_mm);
  out.add("by_wind_mm", evaporation.by_wind_mm);
  out.add("combined_mm", evaporation.combined_mm);
  out.add("priestley_taylor_mm", evaporation.priestley_taylor_mm);
  return out;
}

}  // namespace

Computations air_computations() {
  return {{"saturation", saturation},
          {"air_pressure", air_pressure},
          {"daily_saturation", daily_saturation},
          {"vapour_from_wet_bulb", vapour_from_wet_bulb},
          {"vapour_from_humidity", vapour_from_humidity},
          {"moist_air", moist_air},
          {"humidity_for_deficit", humidity_for_deficit},
          {"condensation", condensation},
          {"wind_at_2m", wind_at_2m},
          {"ground_heat_of_month", ground_heat_of_month},
          {"reference_day", reference_day},
          {"reference_day_from_temperature", reference_day_from_temperature},
          {"temperature_only_evaporation", temperature_only_evaporation},
          {"reference_hours", reference_hours},
          {"wet_surface", wet_surface}};
}

}  // namespace strikebed::nursery
