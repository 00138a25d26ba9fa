#include "nursery/daybook/goal_so_far.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "growth/rungs.hpp"

namespace strikebed::nursery {
namespace {

/// What is not as the goal's own profile says it was when it was made.
void compare_with_profile(const GoalSoFar& so_far, std::vector<std::string>& remarks) {
  const auto& own = so_far.file.goal.species.own;
  if (!own || !own->absorbed) return;
  std::vector<PastSeason> absorbed;
  for (const PastSeason& season : so_far.past) {
    if (season.days.until <= own->absorbed->until) absorbed.push_back(season);
  }
  const growth::Absorbed now = absorbed_of(absorbed, own->absorbed->noted_before);
  if (now.digest == own->absorbed->digest) return;
  remarks.push_back(
      fmt::format("Your profile {} was learnt from {} entries of the seasons until {}, and this daybook holds {} of "
                  "them now, not the same ones: make the profile anew.",
                  own->file, own->absorbed->entries, to_words(own->absorbed->until), now.entries));
}

/// A goal's word stands above that of a profile.
void name_rates_of_both(const growth::Species& species, const season::Goal& goal, std::vector<std::string>& remarks) {
  for (const growth::RungRow& row : growth::kRungs) {
    const growth::RateValue& value = species.rates[row.rung];
    if (value.counted == 0 || belief_of(goal, row.rung, 0).belief == value.belief.belief) continue;
    remarks.push_back(
        fmt::format("{} is said in the goal: what your profile has learnt of it ({} counted) is not used.", row.name,
                    value.counted));
  }
}

}  // namespace

Result<GoalSoFar> goal_so_far(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  const std::vector<GoalNoted> goals = goals_noted(request.today, fold, library);
  Text text;
  std::string name;
  std::optional<daybook::EntryId> id;
  Date read_on = request.today;
  if (request.goal) {
    text = *request.goal;
  } else {
    if (goals.empty()) {
      return Error{.problem = "there is no goal in the daybook",
                   .allowed = "note one (goal FILE), or name a goal file"};
    }
    const GoalNoted& last = goals.back();
    name = last.name;
    id = last.id;
    text = {fmt::format("the goal \"{}\" of the daybook", name), last.text};
    read_on = last.set_on;  // its dates were to come then
  }
  GoalOverrides overrides;
  overrides.other_weather = request.weather ? &*request.weather : nullptr;
  auto file = parse_goal(text.text, text.file, read_on, library, overrides);
  if (!file.ok()) return file.error();
  auto weather = GoalWeather::of(*file, request.weather, library);
  if (!weather.ok()) return weather.error();
  season::Goal goal = file->goal;
  goal.today = request.today;
  const SeasonDays season = season_of(goal.by, goals);
  auto past = learn_from_past(goal, goals, *weather, fold, request.workers, request.random_seed);
  if (!past.ok()) return past.error();
  GoalSoFar so_far{.file = std::move(*file),
                   .name = std::move(name),
                   .id = id,
                   .season = season,
                   .weather = std::move(*weather),
                   .goal = std::move(goal),
                   .past = std::move(*past),
                   .remarks = {}};
  compare_with_profile(so_far, so_far.remarks);
  name_rates_of_both(so_far.file.goal.species, so_far.file.goal, so_far.remarks);
  return so_far;
}

}  // namespace strikebed::nursery
