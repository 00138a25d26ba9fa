#pragma once
// The one season that everything here is measured on: benchmarks/goal.toml on the weather of the demo nursery.
#include "climate/seasons.hpp"
#include "season/chain.hpp"
#include "season/futures.hpp"
#include "season/goal.hpp"
#include "season/offers.hpp"
#include "season/plan.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::benchmarks {

using season::kLog2Points;
using season::kReplicates;

struct ExampleSeason {
  season::Goal goal;
  climate::WeatherSeasons weather;
  season::Chain chain;
  season::ThermalSums sums;
  season::SessionDays sessions;
  season::Futures futures;
  int sow_day;  ///< near the best one, fixed so that all versions of the program are measured on one problem
};

/// The same goal without a cap on sessions.
[[nodiscard]] season::Goal without_cap(season::Goal goal);

/// Made at the first call. Throws std::runtime_error when a file cannot be read.
[[nodiscard]] const ExampleSeason& example_season();

/// The weather record of the goal, and futures of it for the season of the goal.
[[nodiscard]] climate::WeatherRecord example_record();
[[nodiscard]] climate::WeatherSeasons example_weather(const climate::WeatherRecord& record, const season::Goal& goal);

}  // namespace strikebed::benchmarks
