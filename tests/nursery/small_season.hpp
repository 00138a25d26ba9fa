#pragma once
// The whole way from a goal to how sure it is, in as few futures as a study allows: for tests of what no goal may do to
// the engine.
#include <cmath>
#include <numbers>
#include <vector>

#include "season/study.hpp"

namespace strikebed::nursery {

/// Two mild years, the second 2 °C warmer.
inline climate::WeatherSeasons two_mild_years(const season::WeatherSpan& span) {
  climate::WeatherSeasons weather;
  weather.first = span.first;
  weather.days = span.days;
  weather.count = 2;
  for (int season = 0; season < weather.count; ++season) {
    for (int day = 0; day < weather.days; ++day) {
      const double phase = 2 * std::numbers::pi * (day_of_year(weather.first + Days{day}) - 110) / 365;
      const double mean_c = 12 + 2 * season + 9 * std::sin(phase);
      weather.tmin_c.push_back(static_cast<float>(mean_c - 5));
      weather.tmax_c.push_back(static_cast<float>(mean_c + 5));
    }
  }
  return weather;
}

/// How sure 1, 100 and a million seeds are, and the fewest that are enough, sown so many days from the beginning: a
/// rough look at the study of the goal.
inline std::vector<double> small_season(const season::Goal& goal, const std::vector<int>& sow_days = {20, 120}) {
  season::Study study(goal, two_mild_years(season::weather_span(goal)), {});
  const std::vector<double> shares(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  std::vector<double> chances;
  for (const int sow_day : sow_days) {
    if (sow_day >= study.weather().days) break;
    study.sow_on({sow_day});
    for (const int seeds : {1, 100, 1'000'000})
      chances.push_back(study.how_sure(seeds, shares, season::Look::rough).chance);
    chances.push_back(study.seeds_needed(season::Look::rough).best_chance);
  }
  return chances;
}

}  // namespace strikebed::nursery
