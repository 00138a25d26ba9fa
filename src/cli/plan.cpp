#include "cli/commands.hpp"
#include "cli/output.hpp"
#include "nursery/files.hpp"
#include "nursery/make_plan.hpp"
#include "nursery/printed.hpp"

namespace strikebed::cli {
namespace {

Result<nursery::PlanAnswer> plan_with_progress(const PlanArguments& arguments) {
  Progress progress;
  nursery::PlanRequest request;
  request.goal_path = arguments.goal;
  request.weather_path = arguments.weather;
  request.seeds = arguments.seeds;
  request.today = arguments.today;
  request.random_seed = arguments.random_seed;
  request.threads = arguments.threads;
  request.progress = [&progress](double done, const char* what) { progress.show(done, what); };
  return nursery::make_plan(request);
}

}  // namespace

int answer_plan(const PlanArguments& arguments) {
  if (arguments.report) {
    if (const auto wrong = nursery::wrong_place_for_page(*arguments.report)) return complain(*wrong);
  }
  const auto answer = plan_with_progress(arguments);
  if (!answer.ok()) return complain(answer.error());
  if (arguments.report) {
    if (const auto failed = nursery::write_file(*arguments.report, nursery::page_of(*answer))) return complain(*failed);
    say("The page with pictures is in " + *arguments.report);
  }
  return print_answer(arguments.json ? nursery::json_of(*answer) : nursery::words_of(*answer));
}

}  // namespace strikebed::cli
