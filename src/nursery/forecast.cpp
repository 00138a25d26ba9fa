#include "nursery/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "nursery/daybook/observed.hpp"
#include "nursery/goal/goal_file.hpp"
#include "nursery/goal_weather.hpp"
#include "print/forecast_json.hpp"
#include "print/forecast_text.hpp"

namespace strikebed::nursery {
namespace {

/// The goals that were set before a day, by when.
std::vector<const daybook::Entry*> goals_before(Date day, daybook::Fold& fold) {
  std::vector<const daybook::Entry*> goals;
  for (const auto& [id, record] : fold.state().goals) {
    const daybook::Entry* entry = fold.find(id);
    if (entry && local_day(entry->happened) < day) goals.push_back(entry);
  }
  std::ranges::sort(goals, {}, [](const daybook::Entry* entry) { return std::pair(entry->happened.ms, entry->id); });
  return goals;
}

/// The first day of the season of a goal.
Date season_begins(const season::Goal& goal, const std::vector<const daybook::Entry*>& goals, const Library& library) {
  constexpr Days kLongest{548};
  Date from = goal.by - kLongest;
  for (const daybook::Entry* entry : goals) {
    const auto& set = std::get<daybook::GoalSet>(entry->body);
    const auto before = parse_goal(set.goal_toml, set.name, local_day(entry->happened), library);
    if (before.ok() && before->goal.by < goal.by) from = std::max(from, before->goal.by);
  }
  return from;
}

std::vector<print::EarlierForecast> earlier_of(const daybook::EntryId& goal, Date today, daybook::Fold& fold) {
  std::vector<print::EarlierForecast> earlier;
  const auto record = fold.state().goals.find(goal);
  if (record == fold.state().goals.end()) return earlier;
  for (const daybook::EntryId& id : record->second.forecasts) {
    const daybook::Entry* entry = fold.find(id);
    const auto* given = entry ? std::get_if<daybook::ForecastGiven>(&entry->body) : nullptr;
    if (!given || local_day(entry->happened) >= today) continue;
    const auto whole = [](double plants) { return static_cast<int>(plants); };
    earlier.push_back({local_day(entry->happened),
                       given->assurance,
                       {whole(given->plants_p05), whole(given->plants_p25), whole(given->plants_p50),
                        whole(given->plants_p75), whole(given->plants_p95)}});
  }
  return earlier;
}

}  // namespace

Result<ForecastAnswer> forecast(const ForecastRequest& request, daybook::Fold& fold, const Library& library) {
  ForecastAnswer answer;
  Text text;
  const std::vector<const daybook::Entry*> goals = goals_before(request.today, fold);
  if (request.goal) {
    text = *request.goal;
  } else {
    if (goals.empty()) {
      return Error{.problem = "there is no goal in the daybook",
                   .allowed = "note one (goal FILE), or name a goal file"};
    }
    const auto& set = std::get<daybook::GoalSet>(goals.back()->body);
    text = {fmt::format("the goal \"{}\" of the daybook", set.name), set.goal_toml};
    answer.goal_name = set.name;
    answer.goal_id = goals.back()->id;
  }
  GoalOverrides overrides;
  overrides.other_weather = request.weather ? &*request.weather : nullptr;
  // A goal is read as of the day on which it was set: its dates were to come then.
  const Date read_on = answer.goal_id ? std::min(request.today, local_day(goals.back()->happened)) : request.today;
  auto file = parse_goal(text.text, text.file, read_on, library, overrides);
  if (!file.ok()) return file.error();
  season::Goal goal = file->goal;
  goal.today = request.today;
  if (goal.by <= goal.today) {
    return Error{.problem = fmt::format("{} is not after {}: there is nothing to foretell any more", to_iso(goal.by),
                                        to_iso(goal.today)),
                 .allowed = "a goal that is still to come",
                 .field = "by",
                 .file = text.file};
  }
  SeasonSeen seen = season_seen(goal, season_begins(goal, goals, library), fold);
  if (!seen.sown.empty()) goal.sown = std::move(seen.sown);
  seen.observed.sowings.resize(goal.sown.size());
  goal.sow_on.reset();
  goal.seeds_in_hand.reset();
  auto weather = GoalWeather::of(*file, request.weather, library);
  if (!weather.ok()) return weather.error();
  const season::WeatherSpan span = season::weather_span(goal, &seen.observed);
  auto seasons = weather->seasons(span.first, span.days, goal.today, season::kFutures, request.random_seed);
  if (!seasons.ok()) return seasons.error();
  season::Study study(goal, std::move(*seasons),
                      {.seed = request.random_seed,
                       .workers = request.workers,
                       .seen = std::make_shared<const season::Observed>(seen.observed)});
  answer.forecast = season::forecast_of(study);
  season::look_for_steps(study, answer.forecast);
  if (answer.goal_id) answer.earlier = earlier_of(*answer.goal_id, request.today, fold);
  answer.assumed = std::move(file->assumed);
  if (span.first < goal.today) {
    const std::size_t known = weather->days_known(span.first, goal.today);
    answer.assumed.push_back(
        known == 0 ? std::string("The weather so far is not in the record: it counts as if it were still to come.")
                   : fmt::format("The weather is as recorded up to {}, and as it may come from then on.",
                                 to_words(span.first + Days{known - 1})));
  }
  answer.remarks = std::move(seen.remarks);
  answer.remarks.insert(answer.remarks.end(), weather->remarks().begin(), weather->remarks().end());
  answer.goal = std::move(goal);
  answer.seen = std::move(seen.observed);
  answer.entries = seen.entries;
  return answer;
}

std::optional<daybook::ForecastGiven> given_of(const ForecastAnswer& answer) {
  if (!answer.goal_id) return std::nullopt;
  daybook::ForecastGiven given{.goal = *answer.goal_id, .count_on = answer.goal.by};
  given.assurance = answer.forecast.assurance;
  for (const season::WantForecast& want : answer.forecast.wants) {
    given.wanted += want.wanted;
    given.plants_p05 += want.plants.p05;
    given.plants_p25 += want.plants.p25;
    given.plants_p50 += want.plants.p50;
    given.plants_p75 += want.plants.p75;
    given.plants_p95 += want.plants.p95;
  }
  return given;
}

namespace {
print::ForecastShown shown(const ForecastAnswer& answer) {
  return {answer.goal,    answer.goal_name, answer.seen,    answer.forecast,
          answer.entries, answer.earlier,   answer.assumed, answer.remarks};
}
}  // namespace

std::string words_of(const ForecastAnswer& answer, int width) { return print::forecast_text(shown(answer), width); }
std::string json_of(const ForecastAnswer& answer) { return print::forecast_json(shown(answer)); }

}  // namespace strikebed::nursery
