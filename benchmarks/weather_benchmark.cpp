// How long a long hourly weather record takes to read and check.
#include <benchmark/benchmark.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/random.hpp"
#include "climate/csv_reader.hpp"
#include "usual.hpp"

namespace strikebed::benchmarks {
namespace {

/// Hours of invented weather, in the columns a weather service gives.
std::string hourly_csv(int years, bool all_columns) {
  std::string text = "time,temperature_2m (°C)";
  if (all_columns) text += ",relative_humidity (%),precipitation (mm),wind_speed_10m (m/s),shortwave_radiation (W/m2)";
  text += '\n';
  const Date end = make_date(1991 + years, 1, 1);
  std::uint64_t row = 0;
  for (Date date = make_date(1991, 1, 1); date < end; date += Days{1}) {
    const std::string day = to_iso(date);
    const double warmer = -8 * std::cos(2 * std::numbers::pi * day_of_year(date) / 365.25);
    for (int hour = 0; hour < 24; ++hour, ++row) {
      const double sun = -std::cos(2 * std::numbers::pi * (hour + 0.5) / 24);
      const double t = 11 + warmer + 4 * sun + 2 * random_normal(1, row);
      fmt::format_to(std::back_inserter(text), "{}T{:02}:00,{:.1f}", day, hour, t);
      if (all_columns) {
        const double luck = random_uniform(2, row);
        fmt::format_to(std::back_inserter(text), ",{:.0f},{:.1f},{:.1f},{:.0f}", 70 - 15 * sun + 10 * luck,
                       luck > 0.9 ? 10 * (luck - 0.9) : 0, 1 + 4 * luck, std::max(sun, 0.0) * (300 + 25 * warmer));
      }
      text += '\n';
    }
  }
  return text;
}

void read_hourly_csv(benchmark::State& state, bool all_columns) {
  const std::string text = hourly_csv(30, all_columns);
  int rows = 0;
  for (auto _ : state) {
    const auto record = climate::read_weather_csv(text, "hourly.csv");
    if (!record.ok()) {
      state.SkipWithError(record.error().message().c_str());
      return;
    }
    rows = record->hourly_rows;
  }
  state.counters["rows"] = rows;
  state.counters["megabytes"] = static_cast<double>(text.size()) / 1e6;
}
BENCHMARK_CAPTURE(read_hourly_csv, six_columns, true)->Apply(usual);
BENCHMARK_CAPTURE(read_hourly_csv, temperature, false)->Apply(usual);

}  // namespace
}  // namespace strikebed::benchmarks
