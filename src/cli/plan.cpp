#include <fmt/format.h>

#include <string>
#include <string_view>
#include <utility>

#include "cli/commands.hpp"
#include "cli/daybook.hpp"
#include "cli/output.hpp"
#include "host/files.hpp"
#include "host/library.hpp"
#include "host/worker_threads.hpp"
#include "nursery/make_plan.hpp"
#include "nursery/printed.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::cli {
namespace {

Result<nursery::PlanAnswer> plan_with_progress(const PlanArguments& arguments, const nursery::Text& goal) {
  nursery::PlanRequest request;
  request.goal = goal;
  if (arguments.weather) {
    auto weather = host::read_weather_text(*arguments.weather);
    if (!weather.ok()) return weather.error();
    request.weather = std::move(*weather);
  }
  const auto library = host::load_library(arguments.goal);
  if (!library.ok()) return library.error();
  Progress progress;
  request.seeds = arguments.seeds;
  request.today = arguments.today;
  request.random_seed = arguments.random_seed;
  request.workers = host::worker_threads(arguments.threads);
  request.progress = [&progress](double done, const char* what) { progress.show(done, what); };
  return nursery::make_plan(request, *library);
}

/// What plan calls a field of the goal: its key in the goal file, "[seedbed] lit" for "seedbed.lit".
std::string goal_file_key(std::string_view field) {
  if (field == "mix.medium") return "strikebed mix medium";  // not of the goal: another question
  const std::size_t dot = field.find('.');
  if (dot == std::string_view::npos) return std::string(field);
  std::string key("[");
  return key.append(field.substr(0, dot)).append("] ").append(field.substr(dot + 1));
}

/// What plan calls a field of the reading of weather: a key of the goal file's table [weather], which is about the
/// goal's own file; for another there is none.
std::string weather_key(std::string_view field) {
  constexpr std::string_view kColumn = "columns.";
  constexpr std::string_view kUnit = ".unit";
  if (field == "date_order" || field == "wind_height_m") return fmt::format("[weather] {}", field);
  if (!field.starts_with(kColumn)) return "";
  field.remove_prefix(kColumn.size());
  const bool with_unit = field.ends_with(kUnit);
  if (with_unit) field.remove_suffix(kUnit.size());
  return fmt::format("[weather.columns] {} = \"NAME{}\"", field, with_unit ? ":UNIT" : "");
}

int write_page(const std::string& path, const nursery::PlanAnswer& answer) {
  if (const auto failed = host::write_file(path, nursery::page_of(answer, goal_file_key))) return complain(*failed);
  say("The page with pictures is in " + path);
  return kAnswered;
}

}  // namespace

int answer_plan(const PlanArguments& arguments) {
  // Looked at before the work, and said at once; the plan is printed in any case.
  int page = kAnswered;
  if (arguments.report) {
    if (const auto wrong = host::wrong_place_for(host::kPage, *arguments.report)) page = complain(*wrong);
  }
  const auto goal = host::read_text(arguments.goal, nursery::kLargestTomlFile);
  if (!goal.ok()) return complain(goal.error());
  const auto answer = plan_with_progress(arguments, *goal);
  if (!answer.ok()) {
    return complain(answer.error(),
                    [&](std::string_view field) { return arguments.weather ? std::string() : weather_key(field); });
  }
  if (arguments.report && page == kAnswered) page = write_page(*arguments.report, *answer);
  const int noted = arguments.note ? note_plan(arguments.daybook, *goal, *answer) : kAnswered;
  const int plan = print_answer(arguments.json ? nursery::json_of(*answer)
                                               : nursery::words_of(*answer, goal_file_key, answer_width()));
  for (const int one : {plan, page, noted}) {
    if (one != kAnswered) return one;
  }
  return kAnswered;
}

}  // namespace strikebed::cli
