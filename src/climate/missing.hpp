#pragma once
// Standing in for humidity, wind and radiation that were not measured, always flagged as estimated.
#include <optional>

#include "climate/evapotranspiration.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

enum class Setting { inland, coast };

inline constexpr double kUsualWind_m_s = 2;  ///< at 2 m: the mean over many stations (FAO-56, chapter 3)

/// A day with everything the water balance needs, and what of it is estimated.
struct CompletedDay {
  double tmin_c;
  double tmax_c;
  double vapour_kpa;
  double wind_m_s;
  double radiation_mj_m2;
  bool humidity_estimated = false;
  bool wind_estimated = false;
  bool radiation_estimated = false;
};

/// Humidity: from the dew point, else from the mean relative humidity, else as if dew formed at the minimum
/// temperature. Wind: 2 m/s. Radiation: from the temperature range, 0.16 inland, 0.19 on a coast, at most a clear
/// day's. Nothing when the day has no temperature. Accuracy of the estimates: docs/methods/evapotranspiration.md
/// Source: FAO-56, chapter 3, "Estimating missing climatic data".
[[nodiscard]] std::optional<CompletedDay> completed(const Day& day, const Site& site,
                                                    Setting setting = Setting::inland);

/// Reference evapotranspiration of a completed day.
[[nodiscard]] Evaporation reference_evaporation(const CompletedDay& day, const Site& site, Date date);

}  // namespace strikebed::climate
