#include "growth/hardiness.hpp"

#include <cmath>
#include <numbers>

namespace strikebed::growth {

double light_response(double day_length_h, double standstill_h, double full_h) {
  if (day_length_h >= full_h) return 1;
  if (day_length_h <= standstill_h) return 0;
  return (day_length_h - standstill_h) / (full_h - standstill_h);
}

double idle_hazard(double share_a_week) { return -std::log1p(-share_a_week) / 7; }

double frost_dose(double lowest_c) { return lowest_c < 0 ? std::exp2(-lowest_c / kFrostDoubling_c) : 0; }

double log_frost_scale(double half_c) {
  return std::log(std::numbers::ln2) + half_c * std::numbers::ln2 / kFrostDoubling_c;
}

}  // namespace strikebed::growth
