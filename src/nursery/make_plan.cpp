#include "nursery/make_plan.hpp"

#include <fmt/format.h>

#include <utility>

#include "climate/seasons.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/read_weather.hpp"
#include "nursery/worker_threads.hpp"

namespace strikebed::nursery {
namespace {

/// What is to be said of the record in the plan: one line, and where to read the rest.
std::vector<std::string> warnings_of(const climate::WeatherRecord& record) {
  if (record.notices.empty()) return {};
  std::string text = fmt::format("{} remark{} on the weather record {}", record.notices.size(),
                                 record.notices.size() == 1 ? "" : "s", record.name);
  if (record.days_filled > 0) text += fmt::format(", {} days filled", record.days_filled);
  if (record.days_missing > 0) text += fmt::format(", {} days missing", record.days_missing);
  return {text + fmt::format(". To read them: strikebed weather {}", record.name)};
}

struct SeasonsAndWarnings {
  climate::WeatherSeasons seasons;
  std::vector<std::string> warnings;
};

Result<SeasonsAndWarnings> seasons_for(const GoalFile& file, std::uint64_t random_seed) {
  const season::WeatherSpan span = season::weather_span(file.goal);
  if (file.normals) {
    auto seasons = climate::weather_seasons(*file.normals, span.first, span.days, season::kFutures, random_seed);
    if (!seasons.ok()) {
      Error error = seasons.error();
      if (error.file.empty()) error.file = file.path;
      if (error.field.empty()) error.field = "place.normals";
      return error;
    }
    return SeasonsAndWarnings{std::move(seasons).value(), {}};
  }
  const auto record = read_weather({.path = file.weather_path.value_or("")});
  if (!record.ok()) return record.error();
  auto seasons = climate::weather_seasons(*record, span.first, span.days, season::kFutures, random_seed);
  if (!seasons.ok()) {
    Error error = seasons.error();
    if (error.file.empty()) error.file = record->name;
    return error;
  }
  return SeasonsAndWarnings{std::move(seasons).value(), warnings_of(*record)};
}

}  // namespace

Result<PlanAnswer> make_plan(const PlanRequest& request) {
  GoalOverrides overrides;
  overrides.weather_path = request.weather_path;
  overrides.seeds_in_hand = request.seeds;
  auto file = read_goal_file(request.goal_path, request.today, overrides);
  if (!file.ok()) return file.error();
  if (request.progress) request.progress(0, "reading the weather");
  auto weather = seasons_for(*file, request.random_seed);
  if (!weather.ok()) return weather.error();

  season::PlanOptions options;
  options.seed = request.random_seed;
  options.workers = worker_threads(request.threads);
  options.progress = request.progress;
  season::Plan plan = season::make_plan(file->goal, weather->seasons, options);
  for (const auto* warnings : {&file->warnings, &weather->warnings}) {
    plan.warnings.insert(plan.warnings.end(), warnings->begin(), warnings->end());
  }
  return PlanAnswer{std::move(file->goal), std::move(plan), std::move(file->assumed)};
}

}  // namespace strikebed::nursery
