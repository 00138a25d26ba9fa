#include "print/forecast_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "base/lines.hpp"
#include "growth/rungs.hpp"
#include "print/number_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

std::string plants_words(const season::PlantRange& range) {
  return fmt::format("{} ({} to {})", range.p50, range.p05, range.p95);
}
std::string spread_words(const season::Spread& spread) {
  return fmt::format("{:.0f} ({:.0f} to {:.0f})", spread.typical, spread.low, spread.high);
}
/// What is most worth saying first.
std::string first_words(const ForecastShown& shown) {
  const season::Forecast& forecast = shown.forecast;
  std::vector<std::string> wants;
  for (const season::WantForecast& want : forecast.wants) {
    wants.push_back(fmt::format("{} of {} {} plants (9 times in 10 between {} and {})", want.plants.p50, want.wanted,
                                want.base_form, want.plants.p05, want.plants.p95));
  }
  return fmt::format("With what is sown and struck already: {} by {}. {} as wanted is {} sure, where {} was asked.",
                     in_a_row(wants), date_words(shown.goal.by), forecast.wants.size() > 1 ? "All of them" : "As many",
                     percent_beside(forecast.assurance, shown.goal.assurance), percent(shown.goal.assurance));
}

std::string step_words(const season::PossibleStep& step) {
  if (step.kind == season::StepKind::more_sessions) return "Strike on every day of the week";
  if (step.kind == season::StepKind::sow) {
    const std::string chill =
        step.chill_from ? fmt::format(" (into the cold on {})", day_words(*step.chill_from)) : std::string();
    return fmt::format("Sow {} more on {}{}", seeds_words(step.seeds), day_words(step.date), chill);
  }
  constexpr std::size_t kTold = 3;  // sessions
  std::vector<std::string> days;
  for (std::size_t i = 0; i < std::min(step.cuttings.size(), kTold); ++i) {
    days.push_back(fmt::format("{} more on {}", step.cuttings[i].number, day_words(step.cuttings[i].on)));
  }
  if (days.empty()) return "Strike all that are ripe, however many, at every session";
  return fmt::format("Strike all that are ripe: {}{}", in_a_row(days),
                     step.cuttings.size() > kTold ? ", and later" : "");
}

std::string sessions_words(const ForecastShown& shown, std::size_t width) {
  std::vector<std::vector<std::string>> rows;
  bool waits = false;
  for (const season::SessionForecast& session : shown.forecast.sessions) {
    if (session.ready.high < 0.5) continue;
    waits = waits || session.ready.typical >= session.struck.typical + 1;
    rows.push_back({day_words(session.date), spread_words(session.ready), spread_words(session.struck)});
  }
  if (rows.empty()) return "";
  return "\nSESSIONS TO COME (in brackets: 5 and 95 % of the futures)\n" +
         table({{"day"}, {"ripe", true}, {"to strike", true}}, rows, width) +
         (waits ? paragraph("The rest of the ripe are better left for a later session.", width, "  ") : "");
}

std::string learned_words(const ForecastShown& shown, std::size_t width) {
  constexpr double kTold = 0.97;  // of the range before, where it is much the same nothing was learnt
  std::vector<std::vector<std::string>> rows;
  for (const season::Learned& one : shown.forecast.learned) {
    if (one.now.high - one.now.low > kTold * (one.before.high - one.before.low) &&
        std::fabs(one.now.typical - one.before.typical) < 0.05 * (one.before.high - one.before.low)) {
      continue;
    }
    rows.push_back({plain_spaces(unknown_name(shown.goal, unknown_of(one))),
                    value_words(one.before, unit_of(one.quantity)), value_words(one.now, unit_of(one.quantity))});
  }
  if (rows.empty()) return "";
  return "\nWHAT THE COUNTS TELL\n" + table({{"what"}, {"before"}, {"now"}}, rows, width);
}

std::string steps_words(const ForecastShown& shown, std::size_t width) {
  const season::Forecast& forecast = shown.forecast;
  if (forecast.met || !shown.possible) return "";
  std::vector<std::vector<std::string>> rows{{"Nothing more", percent(forecast.assurance), ""}};
  for (const season::PossibleStep& step : shown.possible->steps) {
    rows.push_back({step_words(step), percent(step.assurance), fmt::format("{:+.0f}", step.more_plants)});
  }
  std::string text = "\nWHAT CAN STILL BE DONE\n" + table({{"step"}, {"sure", true}, {"plants", true}}, rows, width);
  if (const auto& last = shown.possible->last_sowing) {
    text += paragraph(fmt::format("The last day on which sowing more still meets the goal is {}.", date_words(*last)),
                      width, "  ");
  } else if (shown.possible->steps.empty()) {
    text += paragraph("Neither more seed, nor more room, nor more days at the bench would make it surer.", width, "  ");
  }
  return text;
}

std::string past_words(const SeasonsRead& past) {
  if (past.count == 0) return "";
  return fmt::format("What is believed beforehand holds what {} of the daybook taught ({} entries).",
                     past.count == 1 ? "the season before" : fmt::format("{} seasons before", past.count),
                     past.entries);
}
std::string weather_words(const std::optional<WeatherSoFar>& weather) {
  if (!weather) return "";
  if (!weather->recorded_until)
    return "The weather so far is not in the record: it counts as if it were still to come.";
  return fmt::format("The weather is as recorded up to {}, and as it may come from then on.",
                     date_words(*weather->recorded_until));
}

}  // namespace

std::string forecast_text(const ForecastShown& shown, int width) {
  const std::size_t w = lines_of(width);
  const season::Forecast& forecast = shown.forecast;
  std::string text =
      paragraph(fmt::format("FORECAST of {}, {}: {} sowings and {} batches of cuttings, {} entries.",
                            shown.goal_name.empty() ? "the goal" : fmt::format("\"{}\"", shown.goal_name),
                            date_words(shown.goal.today), shown.seen.sowings.size(), shown.seen.strikes.size(),
                            shown.entries),
                w) +
      "\n";
  text += paragraph(first_words(shown), w);
  std::vector<std::vector<std::string>> rows;
  for (const season::WantForecast& want : forecast.wants) {
    rows.push_back({want.base_form, fmt::format("{}", want.wanted), plants_words(want.plants), percent(want.chance),
                    fmt::format("{:.0f}", want.in_pots)});
  }
  text += "\nPLANTS (in brackets: 5 and 95 %)\n" +
          table({{"base form"}, {"wanted", true}, {"expected", true}, {"sure", true}, {"of these in pots now", true}},
                rows, w);
  text += steps_words(shown, w) + sessions_words(shown, w) + learned_words(shown, w);
  if (!shown.earlier.empty()) {
    rows.clear();
    for (const EarlierForecast& one : shown.earlier) {
      rows.push_back({date_words(one.given), plants_words(one.plants), percent(one.assurance)});
    }
    text += "\nWHAT WAS FORETOLD EARLIER (all forms together)\n" +
            table({{"on"}, {"plants", true}, {"sure", true}}, rows, w);
  }
  text += "\n";
  for (const auto* list : {&shown.remarks, &shown.assumed}) {
    for (const std::string& one : *list) text += paragraph(one, w, "- ");
  }
  for (const std::string& one : {past_words(shown.past), weather_words(shown.weather)}) {
    if (!one.empty()) text += paragraph(one, w, "- ");
  }
  text += paragraph(fmt::format("From {} futures that count as {:.0f} of equal weight.", forecast.futures,
                                forecast.effective_futures),
                    w, "- ");
  return plain_spaces(text);
}

}  // namespace strikebed::print
