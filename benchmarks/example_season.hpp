#pragma once
// The one season that everything here is measured on: benchmarks/goal.toml on the weather of the demo nursery.
#include "climate/seasons.hpp"
#include "season/chain.hpp"
#include "season/futures.hpp"
#include "season/goal.hpp"
#include "season/make_plan.hpp"
#include "season/offers.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::benchmarks {

using season::kLog2Points;
using season::kReplicates;

struct ExampleSeason {
  season::Goal goal;
  climate::WeatherSeasons weather;
  season::Setting setting;
  season::Futures futures;
  std::vector<season::Timing> timings;
  int sow_day;  ///< near the best one, fixed so that all versions of the program are measured on one problem
  [[nodiscard]] const season::Chain& chain() const { return *setting.chain; }
  [[nodiscard]] const season::ThermalSums& sums() const { return *setting.sums; }
};

/// The same goal without a cap on sessions.
[[nodiscard]] season::Goal without_cap(season::Goal goal);

/// Made at the first call. Throws std::runtime_error when a file cannot be read.
[[nodiscard]] const ExampleSeason& example_season();

/// The weather record of the goal, and futures of it for the season of the goal.
[[nodiscard]] climate::WeatherRecord example_record();
[[nodiscard]] climate::WeatherSeasons example_weather(const climate::WeatherRecord& record, const season::Goal& goal);

}  // namespace strikebed::benchmarks
