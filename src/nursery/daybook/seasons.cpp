#include "nursery/daybook/seasons.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "daybook/exchange.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::nursery {
namespace {

constexpr Days kLongestSeason{548};
/// After its winter, a season's plants are counted within so many days.
constexpr Days kAfterWinter{60};

/// A goal of the past with what is believed now, by the methods that are wanted now.
season::Goal past_goal(const season::Goal& now, const season::Goal& then, Date today) {
  season::Goal goal = now;
  goal.by = then.by;
  goal.winter_starts = then.winter_starts;
  goal.winter_ends = then.winter_ends;
  goal.today = std::min(today, std::max(then.by, then.winter_ends) + kAfterWinter);
  goal.site = then.site;
  goal.seedbed = then.seedbed;
  goal.seedbed_lit = then.seedbed_lit;
  goal.bench = then.bench;
  return goal;
}

/// Good ones at the last count: graded where they were, else alive after weaning.
std::optional<int> counted_plants(const season::Observed& seen) {
  std::optional<int> plants;
  for (const season::SeenStrike& strike : seen.strikes) {
    const auto& count = strike.graded ? strike.graded : strike.weaned;
    if (count) plants = plants.value_or(0) + count->good;
  }
  return plants;
}

/// From the first thing that was done.
Date first_day(const season::Goal& goal, const season::Observed& seen) {
  Date first = goal.today;
  for (const season::Sown& sown : goal.sown) first = std::min(first, sown.on);
  for (const season::SeenStrike& strike : seen.strikes) first = std::min(first, strike.on);
  return first;
}

}  // namespace

std::vector<GoalNoted> goals_noted(Date until, daybook::Fold& fold, const Library& library) {
  std::vector<const daybook::Entry*> entries;
  for (const auto& [id, record] : fold.state().goals) {
    const daybook::Entry* entry = fold.find(id);
    if (entry && local_day(entry->happened) <= until) entries.push_back(entry);
  }
  std::ranges::sort(entries, {}, [](const daybook::Entry* entry) { return std::pair(entry->happened.ms, entry->id); });
  std::vector<GoalNoted> goals;
  for (const daybook::Entry* entry : entries) {
    const auto& set = std::get<daybook::GoalSet>(entry->body);
    const Date set_on = local_day(entry->happened);
    goals.push_back({entry->id, set_on, set.name, set.goal_toml, parse_goal(set.goal_toml, set.name, set_on, library)});
  }
  return goals;
}

std::vector<print::EarlierForecast> forecasts_of(const daybook::EntryId& goal, Date before, daybook::Fold& fold) {
  std::vector<print::EarlierForecast> forecasts;
  const auto record = fold.state().goals.find(goal);
  if (record == fold.state().goals.end()) return forecasts;
  for (const daybook::EntryId& id : record->second.forecasts) {
    const daybook::Entry* entry = fold.find(id);
    const auto* given = entry ? std::get_if<daybook::ForecastGiven>(&entry->body) : nullptr;
    if (!given || local_day(entry->happened) >= before) continue;
    const auto whole = [](double plants) { return static_cast<int>(plants); };
    forecasts.push_back({local_day(entry->happened),
                         given->assurance,
                         {whole(given->plants_p05), whole(given->plants_p25), whole(given->plants_p50),
                          whole(given->plants_p75), whole(given->plants_p95)}});
  }
  return forecasts;
}

SeasonDays season_of(Date by, const std::vector<GoalNoted>& goals) {
  SeasonDays days{by - kLongestSeason, by};
  for (const GoalNoted& noted : goals) {
    if (noted.file.ok() && noted.file->goal.by < by) days.from = std::max(days.from, noted.file->goal.by);
  }
  return days;
}

Result<std::vector<PastSeason>> learn_from_past(season::Goal& goal, const std::vector<GoalNoted>& goals,
                                                const GoalWeather& weather, daybook::Fold& fold, const Workers& workers,
                                                std::uint64_t random_seed) {
  // The season of a goal whose date is past is one of them.
  const Date until = goal.by <= goal.today ? goal.by : season_of(goal.by, goals).from;
  std::map<Date, const GoalNoted*> by_date;  // the last one of each date
  for (const GoalNoted& noted : goals) {
    if (noted.file.ok() && noted.file->goal.by <= until) by_date[noted.file->goal.by] = &noted;
  }
  const std::optional<growth::Absorbed> absorbed = goal.species.own ? goal.species.own->absorbed : std::nullopt;
  std::vector<PastSeason> seasons;
  for (const auto& [by, then] : by_date) {
    const bool is_absorbed = absorbed && by <= absorbed->until;
    season::Goal past =
        past_goal(goal, then->file->goal, is_absorbed ? std::min(goal.today, absorbed->noted_before) : goal.today);
    SeasonSeen seen = season_seen(past, season_of(by, goals), fold);
    if (seen.entries.empty()) continue;
    PastSeason season{.days = season_of(by, goals),
                      .foretold = forecasts_of(then->id, by, fold),
                      .came_true = counted_plants(seen.observed),
                      .entries = std::move(seen.entries),
                      .learnt = {}};
    if (!is_absorbed) {
      past.sown = std::move(seen.sown);
      const Date first = first_day(past, seen.observed);
      const int length = static_cast<int>((past.today - first).count()) + 1;
      auto as_it_was = weather.seasons(first, length, past.today, season::kUsualSeasons, random_seed);
      if (!as_it_was.ok()) return as_it_was.error();
      season.learnt = season::learnt_values(past, *as_it_was, seen.observed, workers);
      season::believe(season.learnt, goal);
    }
    seasons.push_back(std::move(season));
  }
  return seasons;
}

growth::Absorbed absorbed_of(const std::vector<PastSeason>& seasons, Date today) {
  growth::Absorbed absorbed{.until = {}, .noted_before = today, .digest = {}};
  std::set<daybook::EntryId> all;
  for (const PastSeason& season : seasons) {
    absorbed.until = std::max(absorbed.until, season.days.until);
    all.insert(season.entries.begin(), season.entries.end());
  }
  absorbed.entries = static_cast<int>(all.size());
  absorbed.digest = daybook::to_text(daybook::digest_of(std::vector(all.begin(), all.end())));
  return absorbed;
}

}  // namespace strikebed::nursery
