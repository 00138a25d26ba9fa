#include "nursery/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "nursery/daybook/season_so_far.hpp"
#include "print/forecast_json.hpp"
#include "print/forecast_text.hpp"

namespace strikebed::nursery {
namespace {

print::SeasonsRead read_of(const std::vector<PastSeason>& past) {
  print::SeasonsRead read;
  for (const PastSeason& season : past) {
    if (season.learnt.timings.empty() && season.learnt.rates.empty()) continue;
    ++read.count;
    read.entries += static_cast<int>(season.entries.size());
  }
  return read;
}

print::WeatherSoFar so_far(const GoalWeather& weather, Date first, Date today) {
  const std::size_t known = weather.days_known(first, today);
  if (known == 0) return {};
  return {first + Days{known - 1}};
}

}  // namespace

Result<Forecaster> Forecaster::of(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  auto made = season_so_far(request, fold, library);
  if (!made.ok()) return made.error();
  GoalSoFar& known = made->goal_so_far;
  if (!made->study) {
    return Error{.problem = fmt::format("{} is not after {}: there is nothing to foretell any more",
                                        to_iso(known.goal.by), to_iso(known.goal.today)),
                 .allowed = "a goal that is still to come",
                 .field = "by",
                 .file = known.file.path};
  }
  Forecaster forecaster;
  ForecastAnswer& answer = forecaster.answer_;
  answer.goal_name = std::move(known.name);
  answer.goal_id = known.id;
  answer.forecast = season::forecast_of(*made->study);
  if (answer.goal_id) answer.earlier = forecasts_of(*answer.goal_id, request.today, fold);
  answer.assumed = std::move(known.file.assumed);
  const Date first = made->span.first;
  if (first < request.today) answer.weather = so_far(known.weather, first, request.today);
  answer.remarks = std::move(known.remarks);
  for (const auto& more : {made->seen.remarks, known.weather.remarks()}) {
    answer.remarks.insert(answer.remarks.end(), more.begin(), more.end());
  }
  answer.goal = std::move(known.goal);
  answer.seen = std::move(made->seen.observed);
  answer.past = std::move(known.past);
  answer.entries = static_cast<int>(made->seen.entries.size());
  forecaster.study_ = std::move(made->study);
  return forecaster;
}

void Forecaster::look_further() { answer_.possible = season::still_possible(*study_, answer_.forecast); }

Result<ForecastAnswer> forecast(const DaybookRequest& request, daybook::Fold& fold, const Library& library) {
  auto forecaster = Forecaster::of(request, fold, library);
  if (!forecaster.ok()) return forecaster.error();
  forecaster->look_further();
  return forecaster->answer();
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
  return {answer.goal,          answer.goal_name, answer.seen,    answer.forecast, answer.possible, answer.entries,
          read_of(answer.past), answer.weather,   answer.earlier, answer.assumed,  answer.remarks};
}
}  // namespace

std::string words_of(const ForecastAnswer& answer, int width) { return print::forecast_text(shown(answer), width); }
std::string json_of(const ForecastAnswer& answer) { return print::forecast_json(shown(answer)); }

}  // namespace strikebed::nursery
