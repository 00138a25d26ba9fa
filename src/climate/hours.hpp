#pragma once
// Hours from days: a smooth course of temperature through the day. (Light: climate/sun.hpp, hourly_light_shares.)
#include <array>

#include "base/date.hpp"

namespace strikebed::climate {

/// The four temperatures that a day's course joins, °C.
struct DayEnds {
  double tmin;       ///< today's minimum, at dawn
  double tmax;       ///< today's maximum, in the early afternoon
  double next_tmin;  ///< the next day's minimum, towards which the evening cools
  double last_tmax;  ///< the previous day's maximum, from which the hours before dawn cool
};

/// Air temperature, °C, at a local solar hour (0-24, noon at 12) of a day of `day_length_h` hours.
/// By day a sine from today's minimum to today's maximum, by night an exponential fall towards the minimum of the
/// coming dawn. Before dawn the previous sunset's temperature is taken as if that day had had today's minimum.
///   day_length_h  0-24. Where the day or the night is shorter than 2 h there is no dawn and dusk worth the name, and
///   one
///                 cosine joins minimum and maximum instead.
/// Accuracy: docs/methods/hourly-temperature.md. A small step at midnight and at dawn belongs to the model.
/// Source: Parton & Logan 1981, Agric. Meteorol. 23:205-216; a = 1.86 h, b = 2.20, c = -0.17 h for air at 1.5 m.
[[nodiscard]] double parton_logan_c(const DayEnds& ends, double day_length_h, double solar_hour);

/// The same course sampled at the middle of each local solar hour. It is linear in the four temperatures, so it is kept
/// as weights, which add up to one at every hour:
///   T(h) = tmin[h] * tmin + tmax[h] * tmax + next_tmin[h] * next_tmin + last_tmax[h] * last_tmax
struct HourlyShape {
  std::array<float, 24> tmin;
  std::array<float, 24> tmax;
  std::array<float, 24> next_tmin;
  std::array<float, 24> last_tmax;
};

/// The shape of the day at one latitude (-90...90, south negative) and date. docs/methods/hourly-temperature.md
[[nodiscard]] HourlyShape hourly_shape(double latitude_deg, Date date);

}  // namespace strikebed::climate
