#include "growth/response.hpp"

#include <cmath>
#include <numbers>

namespace strikebed::growth {

double triangular_response(double temperature_c, const Cardinal& cardinal) {
  if (temperature_c <= cardinal.base_c || temperature_c >= cardinal.ceiling_c) return 0;
  if (temperature_c <= cardinal.optimum_c)
    return (temperature_c - cardinal.base_c) / (cardinal.optimum_c - cardinal.base_c);
  return (cardinal.ceiling_c - temperature_c) / (cardinal.ceiling_c - cardinal.optimum_c);
}

double wang_engel_response(double temperature_c, const Cardinal& cardinal) {
  if (temperature_c <= cardinal.base_c || temperature_c >= cardinal.ceiling_c) return 0;
  const double y = cardinal.optimum_c - cardinal.base_c;
  const double alpha = std::numbers::ln2 / std::log((cardinal.ceiling_c - cardinal.base_c) / y);
  const double xa = std::pow((temperature_c - cardinal.base_c) / y, alpha);
  return xa * (2 - xa);
}

double thermal_time_per_day(double response, const Cardinal& cardinal) {
  return response * (cardinal.optimum_c - cardinal.base_c);
}

}  // namespace strikebed::growth
