#include <fmt/format.h>

#include <string_view>
#include <utility>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "nursery/printed.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::cli {
namespace {

/// The option of each field of the request; "columns.tmax.unit" is the unit in the choice of the column of tmax.
std::string weather_option(std::string_view field) {
  constexpr std::string_view kColumn = "columns.";
  constexpr std::string_view kUnit = ".unit";
  if (field.starts_with(kColumn)) {
    field.remove_prefix(kColumn.size());
    const bool with_unit = field.ends_with(kUnit);
    if (with_unit) field.remove_suffix(kUnit.size());
    return fmt::format("--column {}=NAME{}", field, with_unit ? ":UNIT" : "");
  }
  return field == "columns"         ? "--column"
         : field == "json"          ? "--json"
         : field == "date_order"    ? "--date-order"
         : field == "wind_height_m" ? "--wind-height"
         : field == "latitude_deg"  ? "--latitude"
         : field == "longitude_deg" ? "--longitude"
         : field == "elevation_m"   ? "--elevation"
                                    : "";
}

}  // namespace

int answer_weather(const WeatherArguments& arguments) {
  auto source = host::read_weather_text(arguments.file);
  if (!source.ok()) return complain(source.error());
  nursery::SummaryRequest request;
  request.weather.source = std::move(*source);
  request.weather.columns = arguments.columns;
  request.weather.date_order = arguments.date_order;
  request.weather.wind_height_m = arguments.wind_height_m;
  request.latitude_deg = arguments.latitude;
  request.longitude_deg = arguments.longitude;
  request.elevation_m = arguments.elevation_m;
  if (!arguments.bases_c.empty()) request.bases_c = arguments.bases_c;
  request.on_coast = arguments.on_coast;
  const auto summary = nursery::summarise_weather(request);
  if (!summary.ok()) return complain(summary.error(), weather_option);
  return print_answer(arguments.json ? nursery::json_of(*summary)
                                     : nursery::words_of(*summary, weather_option, answer_width()));
}

}  // namespace strikebed::cli
