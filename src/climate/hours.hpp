#pragma once
// Hours from days: a smooth course of temperature and light through the day.
#include <array>
#include <span>

#include "base/date.hpp"

namespace strikebed::climate {

/// The shape of the daily course at one latitude and date, precomputed so that hourly temperatures cost two multiplies:
/// T(h) = tmin_weight... see hourly_shape().
struct HourlyShape {
  std::array<float, 24> tmin;       ///< weight of today's minimum at each hour's middle
  std::array<float, 24> tmax;       ///< weight of today's maximum
  std::array<float, 24> next_tmin;  ///< weight of the next day's minimum (evening), of today's minimum before dawn
  std::array<float, 24> last_tmax;  ///< weight of the previous day's maximum (before dawn)
};

/// Parton & Logan 1981 sine-exponential course (air constants a = 1.86 h, b = 2.20, c = -0.17 h), sampled at the middle
/// of each local solar hour. The course is linear in the three temperatures it joins, so it is kept as weights.
///   latitude_deg  -90...90; polar day and night are handled (day length 24 h or 0 h)
/// Source: Parton & Logan 1981, Agric. Meteorol. 23:205-216. docs/methods/hourly-temperature.md
[[nodiscard]] HourlyShape hourly_shape(double latitude_deg, Date date);

}  // namespace strikebed::climate
