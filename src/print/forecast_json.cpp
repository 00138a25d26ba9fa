#include "print/forecast_json.hpp"

#include "print/json.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

Json range_json(const season::PlantRange& range) {
  return {{"p05", range.p05}, {"p25", range.p25}, {"p50", range.p50}, {"p75", range.p75}, {"p95", range.p95}};
}

std::string_view name_of(season::StepKind kind) {
  switch (kind) {
    case season::StepKind::sow:
      return "sow";
    case season::StepKind::strike_more:
      return "strike_more";
    case season::StepKind::more_sessions:
      break;
  }
  return "more_sessions";
}

Json want_json(const season::WantForecast& want) {
  return {{"base_form", want.base_form},
          {"wanted", want.wanted},
          {"plants", range_json(want.plants)},
          {"chance", number(want.chance)},
          {"in_pots", number(want.in_pots)}};
}
Json session_json(const season::SessionForecast& session) {
  return {{"date", to_iso(session.date)}, {"ready", spread(session.ready)}, {"struck", spread(session.struck)}};
}
Json step_json(const season::PossibleStep& step) {
  const bool sows = step.kind == season::StepKind::sow;
  return {{"step", name_of(step.kind)},
          {"on", sows ? Json(to_iso(step.date)) : Json(nullptr)},
          {"chill_from", step.chill_from ? Json(to_iso(*step.chill_from)) : Json(nullptr)},
          {"seeds", sows ? Json(step.seeds) : Json(nullptr)},
          {"cuttings", array(step.cuttings,
                             [](const season::CuttingsMore& more) {
                               return Json{{"on", to_iso(more.on)}, {"number", more.number}};
                             })},
          {"assurance", number(step.assurance)},
          {"more_plants", number(step.more_plants)}};
}

}  // namespace

std::string forecast_json(const ForecastShown& shown) {
  const season::Forecast& forecast = shown.forecast;
  const auto last_sowing = shown.possible ? shown.possible->last_sowing : std::nullopt;
  const std::optional<Date> recorded = shown.weather ? shown.weather->recorded_until : std::nullopt;
  return document({{"goal", shown.goal_name.empty() ? Json(nullptr) : Json(shown.goal_name)},
                   {"today", to_iso(shown.goal.today)},
                   {"by", to_iso(shown.goal.by)},
                   {"count_at", growth::name_of(shown.goal.count_at)},
                   {"assurance_asked", number(shown.goal.assurance)},
                   {"entries_read", shown.entries},
                   {"sowings", shown.seen.sowings.size()},
                   {"strikes", shown.seen.strikes.size()},
                   {"assurance", number(forecast.assurance)},
                   {"assurance_error", number(forecast.assurance_error)},
                   {"met", forecast.met},
                   {"wants", array(forecast.wants, want_json)},
                   {"sessions", array(forecast.sessions, session_json)},
                   {"possible", shown.possible ? array(shown.possible->steps, step_json) : Json(nullptr)},
                   {"last_sowing", last_sowing ? Json(to_iso(*last_sowing)) : Json(nullptr)},
                   {"learned", array(forecast.learned,
                                     [&](const season::Learned& one) {
                                       return Json{{"name", plain_spaces(unknown_name(shown.goal, unknown_of(one)))},
                                                   {"lot", one.lot.empty() ? Json(nullptr) : Json(one.lot)},
                                                   {"unit", unit_of(one.quantity)},
                                                   {"before", spread(one.before)},
                                                   {"now", spread(one.now)}};
                                     })},
                   {"earlier", array(shown.earlier,
                                     [](const EarlierForecast& one) {
                                       return Json{{"given", to_iso(one.given)},
                                                   {"assurance", number(one.assurance)},
                                                   {"plants", range_json(one.plants)}};
                                     })},
                   {"past_seasons", shown.past.count},
                   {"past_entries", shown.past.entries},
                   {"weather_recorded_until", recorded ? Json(to_iso(*recorded)) : Json(nullptr)},
                   {"futures", forecast.futures},
                   {"effective_futures", number(forecast.effective_futures)},
                   {"assumed", shown.assumed},
                   {"remarks", shown.remarks}});
}

}  // namespace strikebed::print
