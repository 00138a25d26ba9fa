// How long a forecast takes: docs/benchmarks.md says what each of these is. One core.
#include <benchmark/benchmark.h>

#include <memory>

#include "example_season.hpp"
#include "season/still_possible.hpp"
#include "usual.hpp"

namespace strikebed::benchmarks {
namespace {

using season::Forecast;
using season::Observed;
using season::SeenStrike;
using season::Study;
using season::TrayLook;

const Date kToday = make_date(2027, 7, 20);
constexpr int kSeeds = 220;   // in each of two sowings
constexpr int kCuttings = 5;  // in each of forty-eight strikes

/// Two sowings and forty-eight strikes of a goal that is not quite met, counted like real ones.
struct FiftyBatches {
  season::Goal goal = example_season().goal;
  std::shared_ptr<Observed> seen = std::make_shared<Observed>();
  climate::WeatherSeasons weather;

  FiftyBatches() {
    goal.today = kToday;
    goal.wants[0].count = 185;
    for (const Date sown : {make_date(2027, 3, 1), make_date(2027, 3, 15)}) {
      goal.sown.push_back({sown, kSeeds, goal.lot, goal.rates[season::Rung::germination]});
      goal.sown.back().lot.name = to_iso(sown);
      seen->sowings.push_back(tray(sown));
    }
    for (int week = 0; week < 8; ++week) {
      for (int of_day = 0; of_day < 6; ++of_day) seen->strikes.push_back(strike(week, of_day));
      seen->sessions.push_back({saturday(week), 30, 33});
    }
    const season::WeatherSpan span = season::weather_span(goal, seen.get());
    weather = climate::weather_seasons(example_record(), span.first, span.days, season::kFutures, 1).value();
  }
  [[nodiscard]] season::StudyOptions options() const { return {.seed = 1, .workers = {}, .seen = seen}; }

 private:
  static Date saturday(int week) { return make_date(2027, 4, 24) + Days{7 * week}; }
  static season::SeenSowing tray(Date sown) {
    season::SeenSowing sowing;
    int up = 0;
    for (const auto& [days, more] : {std::pair{20, 40}, {26, 70}, {33, 50}, {40, 10}}) {
      up += more;
      sowing.emerged.push_back({sown + Days{days}, up, kSeeds});
    }
    int standing = up;
    for (int week = 0; week < 8; ++week) {
      constexpr int kTaken = 16;
      sowing.tray.push_back({saturday(week), {standing / 2, standing / 5, 17, 1}, standing, kTaken, 1});
      standing -= kTaken + 1;
    }
    return sowing;
  }
  static SeenStrike strike(int week, int of_day) {
    SeenStrike strike{.on = saturday(week), .want = 0, .sowing = static_cast<std::size_t>(of_day % 2)};
    strike.struck = kCuttings;
    const int lost = (week + of_day) % 3 == 0 ? 1 : 0;
    for (const int weeks : {6, 8, 10}) {
      const Date on = strike.on + Days{7 * weeks};
      if (on >= kToday) break;
      if (weeks == 6) strike.lost.push_back({on, lost});
      strike.rooted.push_back({on, std::min(weeks / 3, kCuttings - lost), kCuttings - lost});
    }
    return strike;
  }
};

const FiftyBatches& fifty_batches() {
  static const FiftyBatches batches;
  return batches;
}

/// The warmth of the season and what was learnt: what is there before anything is asked.
void study_of_seen(benchmark::State& state) {
  const FiftyBatches& batches = fifty_batches();
  for (auto _ : state) benchmark::DoNotOptimize(Study(batches.goal, batches.weather, batches.options()));
}
BENCHMARK(study_of_seen)->Apply(usual)->UseRealTime();

void forecast(benchmark::State& state) {
  const FiftyBatches& batches = fifty_batches();
  Study study(batches.goal, batches.weather, batches.options());
  for (auto _ : state) benchmark::DoNotOptimize(season::forecast_of(study));
}
BENCHMARK(forecast)->Apply(usual)->UseRealTime();

void forecast_steps(benchmark::State& state) {
  const FiftyBatches& batches = fifty_batches();
  Study study(batches.goal, batches.weather, batches.options());
  const Forecast now = season::forecast_of(study);
  for (auto _ : state) benchmark::DoNotOptimize(season::still_possible(study, now));
  state.counters["assurance"] = now.assurance;
}
BENCHMARK(forecast_steps)->Apply(usual)->UseRealTime();

}  // namespace
}  // namespace strikebed::benchmarks
