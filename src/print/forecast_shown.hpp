#pragma once
// A forecast with what stands beside it when it is shown.
#include <string>
#include <vector>

#include "season/forecast.hpp"

namespace strikebed::print {

/// A forecast that was given before, all wants together.
struct EarlierForecast {
  Date given;
  double assurance = 0;
  season::PlantRange plants;
};

struct ForecastShown {
  const season::Goal& goal;
  std::string goal_name;  ///< in the daybook; empty: the goal is from elsewhere
  const season::Observed& seen;
  const season::Forecast& forecast;
  int entries = 0;  ///< of the daybook that were read
  const std::vector<EarlierForecast>& earlier;
  const std::vector<std::string>& assumed;
  const std::vector<std::string>& remarks;
};

}  // namespace strikebed::print
