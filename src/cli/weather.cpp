#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "nursery/printed.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::cli {

int answer_weather(const WeatherArguments& arguments) {
  nursery::SummaryRequest request;
  request.weather.path = arguments.file;
  request.weather.columns = arguments.columns;
  request.weather.date_order = arguments.date_order;
  request.weather.wind_height_m = arguments.wind_height_m;
  request.latitude_deg = arguments.latitude;
  request.longitude_deg = arguments.longitude;
  request.elevation_m = arguments.elevation_m;
  if (!arguments.bases_c.empty()) request.bases_c = arguments.bases_c;
  request.on_coast = arguments.on_coast;
  const auto summary = nursery::summarise_weather(request);
  if (!summary.ok()) return complain(summary.error());
  return print_answer(arguments.json ? nursery::json_of(*summary) : nursery::words_of(*summary));
}

}  // namespace strikebed::cli
