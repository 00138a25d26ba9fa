#include <fmt/format.h>

#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "nursery/read_weather.hpp"

namespace strikebed::cli {

int answer_weather(const WeatherArguments& arguments) {
  nursery::WeatherRequest request;
  request.path = arguments.file;
  request.columns = arguments.columns;
  request.date_order = arguments.date_order;
  request.wind_height_m = arguments.wind_height_m;
  const auto record = nursery::read_weather(request);
  if (!record.ok()) return complain(record.error());
  return print_answer(fmt::format("{} days\n", record->days.size()));
}

}  // namespace strikebed::cli
