#pragma once
// A forecast with what stands beside it when it is shown.
#include <optional>
#include <string>
#include <vector>

#include "season/forecast.hpp"
#include "season/still_possible.hpp"

namespace strikebed::print {

/// A forecast that was given before, all wants together.
struct EarlierForecast {
  Date given;
  double assurance = 0;
  season::PlantRange plants;
};

/// The weather of a season that is under way.
struct WeatherSoFar {
  std::optional<Date> recorded_until;  ///< its last day in the record; nothing: none is
};

/// Seasons before, of which was learnt.
struct SeasonsRead {
  int count = 0;
  int entries = 0;
};

struct ForecastShown {
  const season::Goal& goal;
  std::string goal_name;  ///< in the daybook; empty: the goal is from elsewhere
  const season::Observed& seen;
  const season::Forecast& forecast;
  const std::optional<season::StillPossible>& possible;  ///< nothing: not looked at yet
  int entries = 0;                                       ///< of the daybook that were read
  SeasonsRead past;
  std::optional<WeatherSoFar> weather;  ///< nothing: the season has not begun
  const std::vector<EarlierForecast>& earlier;
  const std::vector<std::string>& assumed;
  const std::vector<std::string>& remarks;
};

}  // namespace strikebed::print
