// Published checks of thermal time.
#include <cmath>

#include "growth/response.hpp"
#include "nursery/checks/computations.hpp"
#include "season/lognormal_kernel.hpp"

namespace strikebed::nursery {
namespace {

template <double (*response)(double, const growth::Cardinal&)>
Computed response_at(const CheckInputs& in) {
  Computed out;
  for (const auto& [temperature, base, optimum, ceiling] :
       in.rows<4>({"temperature_c", "base_c", "optimum_c", "ceiling_c"}))
    out.add("response", response(temperature, {base, optimum, ceiling}));
  return out;
}

double gained_in_a_day(double temperature_c, const growth::Cardinal& cardinal) {
  return growth::thermal_time_per_day(growth::triangular_response(temperature_c, cardinal), cardinal);
}

Computed days_to_thermal_time(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, temperature, base, optimum, ceiling] :
       in.rows<5>({"thermal_time", "temperature_c", "base_c", "optimum_c", "ceiling_c"}))
    out.add("days", wanted / gained_in_a_day(temperature, {base, optimum, ceiling}));
  return out;
}

/// The mean over equally long stretches of a day, such as 24 hours.
Computed mean_thermal_time_per_day(const CheckInputs& in) {
  const std::vector<double> temperatures = in.numbers("temperature_c");
  Computed out;
  for (const auto& [base, optimum, ceiling] : in.rows<3>({"base_c", "optimum_c", "ceiling_c"})) {
    double sum = 0;
    for (const double temperature : temperatures) sum += gained_in_a_day(temperature, {base, optimum, ceiling});
    out.add("per_day", sum / static_cast<double>(temperatures.size()));
  }
  return out;
}

Computed lognormal_share(const CheckInputs& in) {
  Computed out;
  for (const auto& [warmth, median, spread] : in.rows<3>({"warmth", "median", "spread"}))
    out.add("share",
            static_cast<double>(season::lognormal_share(
                static_cast<float>(warmth), static_cast<float>(std::log(median)), static_cast<float>(spread))));
  return out;
}

}  // namespace

Computations growth_computations() {
  return {{"triangular_response", response_at<growth::triangular_response>},
          {"wang_engel_response", response_at<growth::wang_engel_response>},
          {"days_to_thermal_time", days_to_thermal_time},
          {"mean_thermal_time_per_day", mean_thermal_time_per_day},
          {"lognormal_share", lognormal_share}};
}

}  // namespace strikebed::nursery
