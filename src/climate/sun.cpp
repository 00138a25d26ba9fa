#include "climate/sun.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace strikebed::climate {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kRadian = kPi / 180;
constexpr double kHorizon_deg = -0.8333;  // centre of the sun when its upper limb touches the horizon

}  // namespace

double day_length_h(double latitude_deg, int day_of_year) {
  const double latitude = latitude_deg * kRadian;
  const double theta = 0.2163108 + 2 * std::atan(0.9671396 * std::tan(0.00860 * (day_of_year - 186)));
  const double declination = std::asin(0.39795 * std::cos(theta));
  const double cos_half_night = (std::sin(-kHorizon_deg * kRadian) + std::sin(latitude) * std::sin(declination)) /
                                (std::cos(latitude) * std::cos(declination));
  return 24 - 24 / kPi * std::acos(std::clamp(cos_half_night, -1.0, 1.0));
}

}  // namespace strikebed::climate
