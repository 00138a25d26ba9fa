#include "nursery/make_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "climate/seasons.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/read_weather.hpp"
#include "print/progress_words.hpp"
#include "season/make_plan.hpp"

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

constexpr double kFar_km = 100;
constexpr double kMuchHigher_m = 300;

/// Great-circle distance, by the haversine formula on a sphere of the Earth's mean radius.
double distance_km(const climate::Site& a, const climate::Site& b) {
  constexpr double kRadian = std::numbers::pi / 180;
  constexpr double kEarthRadius_km = 6371.0;
  const double north = std::sin((b.latitude_deg - a.latitude_deg) * kRadian / 2);
  const double east = std::sin((b.longitude_deg - a.longitude_deg) * kRadian / 2);
  const double h =
      north * north + std::cos(a.latitude_deg * kRadian) * std::cos(b.latitude_deg * kRadian) * east * east;
  return 2 * kEarthRadius_km * std::asin(std::min(std::sqrt(h), 1.0));
}

std::string latitude_words(double latitude_deg) {
  return fmt::format("{:.1f}° {}", std::fabs(latitude_deg), latitude_deg < 0 ? "south" : "north");
}

/// A record that says where it was taken must be of the goal's half of the world; one from far away is remarked on.
Result<std::vector<std::string>> compare_places(const climate::WeatherRecord& record, const climate::Site& goal) {
  if (!record.site) return std::vector<std::string>{};
  const double far_km = distance_km(*record.site, goal);
  if ((record.site->latitude_deg < 0) != (goal.latitude_deg < 0) && far_km > kFar_km) {
    return Error{.problem = fmt::format("this weather is of {}, but the goal's place is at {}",
                                        latitude_words(record.site->latitude_deg), latitude_words(goal.latitude_deg)),
                 .allowed = "a record of the place, or of the same half of the world"};
  }
  std::vector<std::string> warnings;
  if (far_km > kFar_km) {
    warnings.push_back(fmt::format("The weather of {} is of a place {:.0f} km away ({}, {:.1f}° {}).", record.name,
                                   far_km, latitude_words(record.site->latitude_deg),
                                   std::fabs(record.site->longitude_deg),
                                   record.site->longitude_deg < 0 ? "west" : "east"));
  }
  if (const double higher_m = goal.elevation_m - record.site->elevation_m; std::fabs(higher_m) > kMuchHigher_m) {
    warnings.push_back(
        fmt::format("The weather of {} was taken {:.0f} m {} the goal's place; count on about {:.1f} °C "
                    "{} there (0.65 °C in 100 m, the standard atmosphere's).",
                    record.name, std::fabs(higher_m), higher_m > 0 ? "below" : "above", std::fabs(higher_m) * 0.0065,
                    higher_m > 0 ? "less" : "more"));
  }
  return warnings;
}

struct SeasonsAndWarnings {
  climate::WeatherSeasons seasons;
  std::vector<std::string> warnings;
};

/// The record that the goal names. What is wrong with it as a whole is said of the place in the goal that names it.
Result<climate::WeatherRecord> record_of(const GoalFile& file, const Library& library) {
  auto text = library.own(file.weather_path.value_or(""));
  auto record = text ? read_weather({.source = std::move(*text)}) : text.error();
  if (record) return record;
  Error error = record.error();
  if (error.line > 0 || !error.field.empty() || !error.others.empty()) return error;
  error.problem = fmt::format("found \"{}\", but {}", error.file, error.problem);
  error.file = file.weather_place.file;
  error.line = file.weather_place.line;
  error.field = file.weather_place.field;
  return error;
}

Result<SeasonsAndWarnings> seasons_for(const GoalFile& file, const PlanRequest& request, const Library& library) {
  const season::WeatherSpan span = season::weather_span(file.goal);
  if (file.normals) {
    auto seasons =
        climate::weather_seasons(*file.normals, span.first, span.days, season::kFutures, request.random_seed);
    if (!seasons.ok()) {
      Error error = seasons.error();
      if (error.file.empty()) error.file = file.path;
      if (error.field.empty()) error.field = "place.normals";
      return error;
    }
    return SeasonsAndWarnings{std::move(seasons).value(), {}};
  }
  const auto record = request.weather ? read_weather({.source = *request.weather}) : record_of(file, library);
  if (!record.ok()) return record.error();
  auto far = compare_places(*record, file.goal.site);
  if (!far.ok()) {
    Error error = far.error();
    error.file = record->name;
    return error;
  }
  auto seasons = climate::weather_seasons(*record, span.first, span.days, season::kFutures, request.random_seed);
  if (!seasons.ok()) {
    Error error = seasons.error();
    if (error.file.empty()) error.file = record->name;
    return error;
  }
  std::vector<std::string> warnings = warnings_of(*record);
  warnings.insert(warnings.end(), far->begin(), far->end());
  return SeasonsAndWarnings{std::move(seasons).value(), std::move(warnings)};
}

}  // namespace

Result<PlanAnswer> make_plan(const PlanRequest& request, const Library& library) {
  GoalOverrides overrides;
  overrides.other_weather = request.weather.has_value();
  overrides.seeds_in_hand = request.seeds;
  auto file = parse_goal(request.goal.text, request.goal.file, request.today, library, overrides);
  if (!file.ok()) return file.error();
  if (request.progress) request.progress(0, "reading the weather");
  auto weather = seasons_for(*file, request, library);
  if (!weather.ok()) return weather.error();

  season::PlanOptions options;
  options.seed = request.random_seed;
  options.workers = request.workers;
  options.progress = [&](season::PlanStep step) {
    if (request.progress) request.progress(step.done, print::progress_words(step.part));
  };
  season::Plan plan = season::make_plan(file->goal, weather->seasons, options);
  std::vector<std::string> remarks = std::move(file->warnings);
  remarks.insert(remarks.end(), weather->warnings.begin(), weather->warnings.end());
  return PlanAnswer{std::move(file->goal), std::move(plan), std::move(file->assumed), std::move(remarks)};
}

}  // namespace strikebed::nursery
