#include "nursery/goal_weather.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/text.hpp"
#include "climate/statistics.hpp"
#include "nursery/half_of_world.hpp"

namespace strikebed::nursery {
namespace {

/// What is to be said of the record in the plan: one line, and where to read the rest.
std::vector<std::string> remarks_of(const climate::WeatherRecord& record, const WeatherRequest& request) {
  if (record.notices.empty()) return {};
  std::string text = fmt::format("{} notice{} on the weather record {}", record.notices.size(),
                                 record.notices.size() == 1 ? "" : "s", file_name(record.name));
  if (record.days_filled > 0) text += fmt::format(", {} days filled", record.days_filled);
  if (record.days_missing > 0) text += fmt::format(", {} days missing", record.days_missing);
  const bool described = !request.columns.empty() || !request.date_order.empty() || request.wind_height_m;
  return {text + fmt::format("; strikebed weather shows {} for that file{}.",
                             record.notices.size() == 1 ? "it" : "them",
                             described ? " and what [weather] says of it" : "")};
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
  std::vector<std::string> remarks;
  if (far_km > kFar_km) {
    remarks.push_back(fmt::format("The weather of {} is of a place {:.0f} km away ({}, {:.1f}° {}).",
                                  file_name(record.name), far_km, latitude_words(record.site->latitude_deg),
                                  std::fabs(record.site->longitude_deg),
                                  record.site->longitude_deg < 0 ? "west" : "east"));
  }
  if (const double higher_m = goal.elevation_m - record.site->elevation_m; std::fabs(higher_m) > kMuchHigher_m) {
    remarks.push_back(
        fmt::format("The weather of {} was taken {:.0f} m {} the goal's place; count on about {:.1f} °C "
                    "{} there (0.65 °C in 100 m, the standard atmosphere's).",
                    file_name(record.name), std::fabs(higher_m), higher_m > 0 ? "below" : "above",
                    std::fabs(higher_m) * 0.0065, higher_m > 0 ? "less" : "more"));
  }
  return remarks;
}

/// The error, said of the place in the goal where the field stands; as it is where the goal does not say it.
Error at_its_place(Error error, const GoalFile& file, const std::string& field) {
  const auto place = file.places.find(field);
  if (place == file.places.end()) return error;
  error.file = place->second.file;
  error.line = place->second.line;
  error.field = place->second.field;
  return error;
}

/// What is wrong with a record as a whole, or with what the goal says of how it is written.
Error of_the_goal(Error error, const GoalFile& file) {
  if (error.file.empty()) return at_its_place(error, file, error.field);
  if (error.line > 0 || !error.field.empty() || !error.others.empty()) return error;
  error.problem = fmt::format("found \"{}\", but {}", error.file, error.problem);
  return at_its_place(std::move(error), file, "weather");
}

std::optional<Error> wrong_half(const GoalFile& file, const std::optional<climate::SolsticeMeans>& means,
                                std::string_view whose) {
  if (!means || !file.places.contains("latitude_deg")) return std::nullopt;
  auto wrong = wrong_half_of_world(file.goal.site.latitude_deg, *means, whose);
  if (wrong) *wrong = at_its_place(std::move(*wrong), file, "latitude_deg");
  return wrong;
}

/// What the weather of a goal is read from: another record as it is, the goal's own as the goal says.
Result<WeatherRequest> request_of(const GoalFile& file, const std::optional<Text>& other, const Library& library) {
  WeatherRequest request;
  if (other) {
    request.source = *other;
  } else {
    request = file.weather;
    if (request.source.text.empty()) {
      Result<Text> text = library.own(file.weather_path.value_or(""));
      if (!text) return of_the_goal(text.error(), file);
      request.source = std::move(*text);
    }
  }
  request.latitude_deg = file.goal.site.latitude_deg;
  return request;
}

}  // namespace

Result<GoalWeather> GoalWeather::of(const GoalFile& file, const std::optional<Text>& other, const Library& library) {
  GoalWeather weather;
  weather.goal_file_ = file.path;
  if (file.normals && !other) {
    if (const auto wrong = wrong_half(file, climate::solstice_means(*file.normals), "the normals")) return *wrong;
    weather.normals_ = file.normals;
    return weather;
  }
  auto request = request_of(file, other, library);
  if (!request) return request.error();
  auto record = read_weather(*request);
  if (!record) return other ? record.error() : of_the_goal(record.error(), file);
  auto far = compare_places(*record, file.goal.site);
  if (!far) {
    Error error = far.error();
    error.file = record->name;
    return error;
  }
  if (const auto wrong = wrong_half(file, climate::solstice_means(*record), record->name)) return *wrong;
  weather.remarks_ = remarks_of(*record, *request);
  weather.remarks_.insert(weather.remarks_.end(), far->begin(), far->end());
  weather.read_ = std::move(*request);
  weather.record_ = std::move(*record);
  return weather;
}

Result<climate::WeatherSeasons> GoalWeather::seasons(Date first, int days, Date today, int count,
                                                     std::uint64_t random_seed) const {
  auto seasons = record_ ? climate::weather_seasons(*record_, first, days, count, random_seed,
                                                    climate::known_days(*record_, first, today))
                         : climate::weather_seasons(*normals_, first, days, count, random_seed);
  if (seasons) return seasons;
  Error error = seasons.error();
  if (error.file.empty()) error.file = record_ ? record_->name : goal_file_;
  if (error.field.empty() && !record_) error.field = "place.normals";
  return error;
}

std::size_t GoalWeather::days_known(Date first, Date today) const {
  return record_ ? climate::known_days(*record_, first, today).count() : 0;
}

bool GoalWeather::same_source(const GoalWeather& other) const {
  if (read_.has_value() != other.read_.has_value()) return false;
  if (read_) return *read_ == *other.read_;
  return normals_ == other.normals_;
}

}  // namespace strikebed::nursery
