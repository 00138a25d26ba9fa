#include "climate/hours.hpp"

#include <cmath>
#include <numbers>

#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kMaximumLag_h = 1.86;   // a: the maximum comes this long after noon (less c)
constexpr double kNightDecay = 2.20;     // b
constexpr double kMinimumLag_h = -0.17;  // c: the minimum comes this long after sunrise
constexpr double kShortest_h = 2;        // below this length of day or night the sunrise form has no meaning

struct Weights {
  double tmin = 0, tmax = 0, next_tmin = 0, last_tmax = 0;
};

/// No sunrise: a cosine with the maximum at the same hour as in the sunrise form and the minimum twelve hours away.
Weights polar_weights(double hour) {
  const double maximum_h = 12 + kMaximumLag_h + kMinimumLag_h;
  const double towards_maximum = 0.5 * (1 + std::cos(2 * kPi * (hour - maximum_h) / 24));
  if (hour >= maximum_h) return {.tmax = towards_maximum, .next_tmin = 1 - towards_maximum};
  if (hour < maximum_h - 12) return {.tmin = 1 - towards_maximum, .last_tmax = towards_maximum};
  return {.tmin = 1 - towards_maximum, .tmax = towards_maximum};
}

Weights course_weights(double day_length_h, double hour) {
  const double night_length_h = 24 - day_length_h;
  if (day_length_h < kShortest_h || night_length_h < kShortest_h) return polar_weights(hour);

  const double start_h = 12 - day_length_h / 2 + kMinimumLag_h;
  const double sunset_h = 12 + day_length_h / 2;
  const auto rise = [&](double h) { return std::sin(kPi * (h - start_h) / (day_length_h + 2 * kMaximumLag_h)); };
  if (hour >= start_h && hour <= sunset_h) return {.tmin = 1 - rise(hour), .tmax = rise(hour)};

  const double hours_since_sunset = hour > sunset_h ? hour - sunset_h : hour + 24 - sunset_h;
  const double kept = std::exp(-kNightDecay * hours_since_sunset / night_length_h);
  const double at_sunset = rise(sunset_h);
  if (hour > sunset_h) return {.tmin = (1 - at_sunset) * kept, .tmax = at_sunset * kept, .next_tmin = 1 - kept};
  return {.tmin = 1 - at_sunset * kept, .last_tmax = at_sunset * kept};
}

}  // namespace

double parton_logan_c(const DayEnds& ends, double day_length_h, double solar_hour) {
  const Weights w = course_weights(day_length_h, solar_hour);
  return w.tmin * ends.tmin + w.tmax * ends.tmax + w.next_tmin * ends.next_tmin + w.last_tmax * ends.last_tmax;
}

HourlyShape hourly_shape(double latitude_deg, Date date) {
  const double length_h = day_length_h(latitude_deg, day_of_year(date));
  HourlyShape shape{};
  for (std::size_t h = 0; h < 24; ++h) {
    const Weights w = course_weights(length_h, static_cast<double>(h) + 0.5);
    shape.tmin[h] = static_cast<float>(w.tmin);
    shape.tmax[h] = static_cast<float>(w.tmax);
    shape.next_tmin[h] = static_cast<float>(w.next_tmin);
    shape.last_tmax[h] = static_cast<float>(w.last_tmax);
  }
  return shape;
}

}  // namespace strikebed::climate
