#include "nursery/make_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "print/progress_words.hpp"

namespace strikebed::nursery {
namespace {

/// What of the weather since a sowing that lies behind is known.
std::optional<std::string> weather_since(const season::Goal& goal, const GoalWeather& weather) {
  Date sown = std::min(goal.sow_on.value_or(goal.today), goal.today);
  for (const season::Sown& own : goal.sown) sown = std::min(sown, own.on);
  if (sown == goal.today) return std::nullopt;
  const std::size_t known = weather.days_known(sown, goal.today);
  const char* const since = goal.sown.empty() ? "the sowing" : "the first sowing";
  if (known == 0)
    return fmt::format("The weather since {} is not in the record: it counts as if it were still to come.", since);
  return fmt::format("The weather since {} is as recorded up to {}, and as it may come from then on.", since,
                     to_words(sown + Days{known - 1}));
}

}  // namespace

std::optional<Error> Planner::ask(const PlanRequest& request) {
  GoalOverrides overrides;
  overrides.other_weather = request.weather ? &*request.weather : nullptr;
  overrides.seeds_in_hand = request.seeds;
  auto file = parse_goal(request.goal.text, request.goal.file, request.today, library_, overrides);
  if (!file) return file.error();
  auto weather = GoalWeather::of(*file, request.weather, library_);
  if (!weather) return weather.error();
  const season::Goal& goal = file->goal;
  const bool warm = study_ && weather_ && weather_->same_source(*weather) && seed_ == request.random_seed &&
                    study_->goal().today == goal.today && study_->weather_reaches(goal);
  if (warm) {
    study_->change(goal);
  } else {
    const season::WeatherSpan span = season::weather_span(goal);
    auto seasons = weather->seasons(span.first, span.days, goal.today, season::kFutures, request.random_seed);
    if (!seasons) return seasons.error();
    study_.emplace(goal, std::move(*seasons),
                   season::StudyOptions{.seed = request.random_seed, .workers = request.workers});
  }
  seed_ = request.random_seed;
  answer_.goal = goal;
  answer_.plan = {};
  answer_.assumed = std::move(file->assumed);
  if (auto since = weather_since(goal, *weather)) answer_.assumed.push_back(std::move(*since));
  answer_.remarks = std::move(file->remarks);
  answer_.remarks.insert(answer_.remarks.end(), weather->remarks().begin(), weather->remarks().end());
  weather_ = std::move(*weather);
  return std::nullopt;
}

Steps<season::PlanStep> Planner::work() { return season::plan_in_steps(*study_, answer_.plan); }

Result<PlanAnswer> make_plan(const PlanRequest& request, const Library& library) {
  const auto say = [&](season::PlanStep step) {
    if (request.progress) request.progress(step.done, print::progress_words(step.part));
  };
  say({0, season::PlanPart::warmth});
  Planner planner(library);
  if (auto wrong = planner.ask(request)) return *wrong;
  for (Steps<season::PlanStep> steps = planner.work(); steps.next();) say(steps.said());
  say({1, season::PlanPart::done});
  return planner.answer();
}

}  // namespace strikebed::nursery
