#pragma once
// The whole way from a goal to how sure it is, in so few futures that it takes milliseconds: for tests of what no goal
// may do to the engine.
#include <cmath>
#include <numbers>
#include <vector>

#include "season/model.hpp"
#include "season/plan.hpp"

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

/// How sure 1, 100 and a million seeds are, sown on each of four days of the next half year, in 64 futures.
inline std::vector<double> small_season(const season::Goal& goal) {
  const climate::WeatherSeasons weather = two_mild_years(season::weather_span(goal));
  const season::Chain chain(goal);
  const season::ThermalSums sums = season::thermal_sums(goal, weather, {});
  const season::Model model(goal, chain, sums, season::session_days(goal, sums),
                            season::draw_futures(chain, weather.count, 2, 5, 1), {});
  const std::vector<double> shares(goal.wants.size(), 1.0 / static_cast<double>(goal.wants.size()));
  std::vector<double> chances;
  for (int sow_day = 1; sow_day < std::min(weather.days, 180); sow_day += 50) {
    const std::vector<season::Sowing> sowings{model.sowing(sow_day)};
    for (const int seeds : {1, 100, 1'000'000})
      chances.push_back(model.assurance(sowings, seeds, shares, season::Precision::exact).chance);
  }
  return chances;
}

}  // namespace strikebed::nursery
