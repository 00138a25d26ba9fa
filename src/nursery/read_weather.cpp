#include "nursery/read_weather.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <string_view>

#include "climate/csv_reader.hpp"
#include "climate/epw_reader.hpp"
#include "climate/statistics.hpp"
#include "nursery/half_of_world.hpp"

namespace strikebed::nursery {
namespace {

bool ends_like_epw(std::string_view path) {
  constexpr std::string_view kEnding = ".epw";
  if (path.size() < kEnding.size()) return false;
  const std::string_view end = path.substr(path.size() - kEnding.size());
  return std::equal(end.begin(), end.end(), kEnding.begin(),
                    [](char a, char b) { return std::tolower(static_cast<unsigned char>(a)) == b; });
}

bool is_epw(std::string_view text, std::string_view file) {
  return ends_like_epw(file) || climate::looks_like_epw(text);
}

Result<climate::DateOrder> date_order_of(std::string_view word) {
  if (word.empty()) return climate::DateOrder::unknown;
  if (word == "day-first") return climate::DateOrder::day_first;
  if (word == "month-first") return climate::DateOrder::month_first;
  return Error{.problem = fmt::format("\"{}\" is not allowed", word),
               .allowed = fmt::format("{}", fmt::join(kDateOrders, " or ")),
               .field = "date_order"};
}

}  // namespace

Result<climate::WeatherRecord> read_weather(const WeatherRequest& request) {
  climate::CsvOptions options;
  const auto date_order = date_order_of(request.date_order);
  if (!date_order) return date_order.error();
  options.date_order = *date_order;
  options.wind_height_m = request.wind_height_m;
  options.latitude_deg = request.latitude_deg;
  for (const std::string& column : request.columns) {
    auto choice = climate::parse_column_choice(column);
    if (!choice.ok()) return choice.error();
    options.columns.push_back(std::move(choice).value());
  }
  const auto& [file, text] = request.source;
  if (is_epw(text, file)) return climate::read_weather_epw(text, file);
  return climate::read_weather_csv(text, file, options);
}

Result<climate::WeatherSummary> summarise_weather(const SummaryRequest& request) {
  WeatherRequest weather = request.weather;
  weather.latitude_deg = request.latitude_deg;
  const auto record = read_weather(weather);
  if (!record.ok()) return record.error();
  std::optional<climate::Place> place;
  if (record->site) place = {record->site->latitude_deg, record->site->longitude_deg, record->site->elevation_m};
  if (request.latitude_deg && !place) place = climate::Place{};
  if (!place && (request.longitude_deg || request.elevation_m)) {
    Error error;
    error.field = "latitude_deg";
    error.problem =
        fmt::format("the place is given without its latitude, and {} does not say it", request.weather.source.file);
    error.allowed = "<latitude_deg> beside <longitude_deg> and <elevation_m>";
    return error;
  }
  if (const auto means = climate::solstice_means(*record); means && request.latitude_deg) {
    if (auto wrong = wrong_half_of_world(*request.latitude_deg, *means, weather.source.file)) {
      wrong->field = "latitude_deg";
      return *wrong;
    }
  }
  if (place) {
    place->latitude_deg = request.latitude_deg.value_or(place->latitude_deg);
    if (request.longitude_deg) place->longitude_deg = request.longitude_deg;
    if (request.elevation_m) place->elevation_m = request.elevation_m;
  }
  const auto setting = request.on_coast ? climate::Setting::coast : climate::Setting::inland;
  return climate::summarise(*record, place, request.bases_c, setting);
}

std::optional<climate::Site> site_of_weather(const Text& source) {
  return is_epw(source.text, source.file) ? climate::site_of_epw(source.text) : std::nullopt;
}

std::optional<Error> why_not_weather(std::string_view beginning, const std::string& file) {
  return is_epw(beginning, file) ? std::nullopt : climate::why_not_csv(beginning, file);
}

std::optional<Error> wrong_column_choice(const std::string& text) {
  const auto choice = climate::parse_column_choice(text);
  if (choice.ok()) return std::nullopt;
  return choice.error();
}

}  // namespace strikebed::nursery
