#pragma once
// A forecast with what stands beside it when it is shown.
#include <string>
#include <vector>

#include "season/forecast.hpp"

namespace strikebed::print {

struct ForecastShown {
  struct Earlier {
    Date given;
    double assurance = 0;
    season::PlantRange plants;
  };
  const season::Goal& goal;
  std::string goal_name;  ///< in the daybook; empty: the goal is from elsewhere
  const season::Observed& seen;
  const season::Forecast& forecast;
  int entries = 0;  ///< of the daybook that were read
  std::vector<Earlier> earlier;
  std::vector<std::string> assumed, remarks;
};

}  // namespace strikebed::print
