#include <utility>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "host/library.hpp"
#include "nursery/printed.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::cli {

int answer_weather(const WeatherArguments& arguments) {
  auto source = host::read_text(arguments.file);
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
  if (!summary.ok()) return complain(summary.error());
  return print_answer(arguments.json ? nursery::json_of(*summary) : nursery::words_of(*summary));
}

}  // namespace strikebed::cli
