#include "climate/missing.hpp"

#include <algorithm>

#include "climate/humid_air.hpp"

namespace strikebed::climate {

std::optional<CompletedDay> completed(const Day& day, const Site& site, Setting setting) {
  if (!day.has_temperature()) return std::nullopt;
  const double tmin = *day.tmin_c;
  const double tmax = *day.tmax_c;
  CompletedDay full{};
  full.tmin_c = tmin;
  full.tmax_c = tmax;
  full.humidity_estimated = !day.dew_point_c && !day.humidity_pct;
  full.wind_estimated = !day.wind_m_s;
  full.radiation_estimated = !day.radiation_mj_m2;

  const double vapour = day.dew_point_c    ? saturation_kpa(*day.dew_point_c)
                        : day.humidity_pct ? vapour_from_mean_kpa(tmin, tmax, *day.humidity_pct)
                                           : saturation_kpa(tmin);
  full.vapour_kpa = std::min(vapour, daily_saturation_kpa(tmin, tmax));
  full.wind_m_s = day.wind_m_s.value_or(kUsualWind_m_s);
  full.radiation_mj_m2 = day.radiation_mj_m2.value_or(
      radiation_from_range_mj_m2(tmin, tmax, site.latitude_deg, day_of_year(day.date), site.elevation_m,
                                 setting == Setting::coast ? kHargreavesCoast : kHargreavesInland));
  return full;
}

Evaporation reference_evaporation(const CompletedDay& day, const Site& site, Date date) {
  return reference_evaporation(EvaporationDay{.latitude_deg = site.latitude_deg,
                                              .elevation_m = site.elevation_m,
                                              .day_of_year = day_of_year(date),
                                              .tmin_c = day.tmin_c,
                                              .tmax_c = day.tmax_c,
                                              .vapour_kpa = day.vapour_kpa,
                                              .wind_2m_m_s = day.wind_m_s,
                                              .radiation_mj_m2 = day.radiation_mj_m2});
}

}  // namespace strikebed::climate
