#include "nursery/read_weather.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>

#include "climate/csv_reader.hpp"
#include "climate/epw_reader.hpp"
#include "nursery/files.hpp"

namespace strikebed::nursery {
namespace {

bool ends_like_epw(std::string_view path) {
  constexpr std::string_view kEnding = ".epw";
  if (path.size() < kEnding.size()) return false;
  const std::string_view end = path.substr(path.size() - kEnding.size());
  return std::equal(end.begin(), end.end(), kEnding.begin(),
                    [](char a, char b) { return std::tolower(static_cast<unsigned char>(a)) == b; });
}

climate::DateOrder date_order_of(std::string_view word) {
  if (word == "dmy") return climate::DateOrder::day_first;
  if (word == "mdy") return climate::DateOrder::month_first;
  return climate::DateOrder::unknown;
}

}  // namespace

Result<climate::WeatherRecord> read_weather(const WeatherRequest& request) {
  climate::CsvOptions options;
  options.date_order = date_order_of(request.date_order);
  options.wind_height_m = request.wind_height_m;
  for (const std::string& column : request.columns) {
    auto choice = climate::parse_column_choice(column);
    if (!choice.ok()) return choice.error();
    options.columns.push_back(std::move(choice).value());
  }
  const auto text = read_file(request.path);
  if (!text.ok()) return text.error();
  if (ends_like_epw(request.path) || climate::looks_like_epw(*text)) {
    return climate::read_weather_epw(*text, request.path);
  }
  return climate::read_weather_csv(*text, request.path, options);
}

std::optional<Error> wrong_column_choice(const std::string& text) {
  const auto choice = climate::parse_column_choice(text);
  if (choice.ok()) return std::nullopt;
  return choice.error();
}

}  // namespace strikebed::nursery
