#include "example_season.hpp"

#include <stdexcept>
#include <string>

#include "host/library.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/read_weather.hpp"
#include "season/make_plan.hpp"

namespace strikebed::benchmarks {
namespace {

constexpr std::uint64_t kSeed = 1;
const std::string kGoalPath = SOURCE_DIR "/benchmarks/goal.toml";

template <class T>
T value_or_throw(Result<T> result) {
  if (!result.ok()) throw std::runtime_error(result.error().message());
  return std::move(result).value();
}

nursery::GoalFile example_goal() {
  const nursery::Text goal = value_or_throw(host::read_text(kGoalPath));
  const nursery::Library library = value_or_throw(host::load_library(kGoalPath));
  return value_or_throw(nursery::parse_goal(goal.text, goal.file, make_date(2026, 12, 1), library));
}

ExampleSeason make_season() {
  season::Goal goal = example_goal().goal;
  climate::WeatherSeasons weather = example_weather(example_record(), goal);
  // No patience, so that the peers have no strike rule to imitate: seedlings are struck as soon as they have opened.
  constexpr season::BenchHabit kAtOnce{.patience = 0};
  season::Setting setting = season::setting_of(
      goal, std::make_shared<const season::ThermalSums>(season::thermal_sums(goal, weather, Workers{})), kAtOnce);
  season::Futures futures(weather.count, kReplicates, kLog2Points, kSeed);
  std::vector<season::Timing> timings = season::timings_of(*setting.chain, futures);
  const int sow_day = static_cast<int>((make_date(2027, 3, 5) - setting.sums->first).count());
  return {std::move(goal), std::move(weather), std::move(setting), std::move(futures), std::move(timings), sow_day};
}

}  // namespace

season::Goal without_cap(season::Goal goal) {
  goal.sessions.cuttings_at_most.reset();
  return goal;
}

const ExampleSeason& example_season() {
  static const ExampleSeason example = make_season();
  return example;
}

climate::WeatherRecord example_record() {
  nursery::Text text = value_or_throw(host::files_beside(kGoalPath)(*example_goal().weather_path));
  return value_or_throw(nursery::read_weather({.source = std::move(text)}));
}

climate::WeatherSeasons example_weather(const climate::WeatherRecord& record, const season::Goal& goal) {
  const season::WeatherSpan span = season::weather_span(goal);
  return value_or_throw(climate::weather_seasons(record, span.first, span.days, season::kFutures, kSeed));
}

}  // namespace strikebed::benchmarks
