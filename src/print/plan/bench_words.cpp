#include "print/plan/bench_words.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

std::string_view rhythm_word(season::Rhythm rhythm) {
  switch (rhythm) {
    case season::Rhythm::four_weeks:
      return "four_weeks";
    case season::Rhythm::three_weeks:
      return "three_weeks";
    case season::Rhythm::two_weeks:
      return "two_weeks";
    case season::Rhythm::week:
      return "week";
    case season::Rhythm::half_week:
      return "half_week";
    case season::Rhythm::day:
      break;
  }
  return "day";
}

std::string_view rhythm_words(season::Rhythm rhythm) {
  switch (rhythm) {
    case season::Rhythm::four_weeks:
      return "every fourth Saturday";
    case season::Rhythm::three_weeks:
      return "every third Saturday";
    case season::Rhythm::two_weeks:
      return "every second Saturday";
    case season::Rhythm::week:
      return "every Saturday";
    case season::Rhythm::half_week:
      return "every Wednesday and Saturday";
    case season::Rhythm::day:
      break;
  }
  return "every day";
}

std::string strike_words(const season::StrikeStep& step) {
  if (step.place < 0.15) return "all whose stem has begun to colour";
  if (step.place < 0.35) return "all but those that have only just begun to colour";
  if (step.place < 0.65) {
    return "the well coloured, and those that would be too stiff by the next session; leave those that have only begun "
           "to colour";
  }
  if (step.place < 0.85) return "those that are far on; leave the others";
  return "only those that would be too stiff by the next session: for the others it pays to wait";
}

std::vector<std::string> strike_sentences(const season::Plan& plan) {
  std::vector<std::string> sentences;
  std::string before;
  for (const season::StrikeStep& step : plan.strike) {
    const std::string words = strike_words(step);
    if (words == before) continue;
    sentences.push_back(sentences.empty() ? fmt::format("Strike {}.", words)
                                          : fmt::format("From {} on, {}.", date_words(step.from), words));
    before = words;
  }
  if (!sentences.empty() && plan.habit.patience < season::kMostPatience) {
    sentences.push_back("That is earlier than is best for a seedling: no place at the bench may stay empty.");
  }
  return sentences;
}

std::string rhythm_sentence(const season::Plan& plan) {
  if (plan.rhythms.empty()) return {};
  return fmt::format("You have not said on which days. Planned is {}: the most seldom that needs hardly more seeds.",
                     rhythm_words(plan.habit.rhythm));
}

std::vector<RhythmRow> rhythm_rows(const season::Goal& goal, const season::Plan& plan) {
  std::vector<RhythmRow> rows;
  for (const season::RhythmPoint& point : plan.rhythms) {
    const bool chosen = point.rhythm == plan.habit.rhythm;
    rows.push_back({std::string(rhythm_words(point.rhythm)), fmt::format("{}", point.days),
                    chosen && plan.met ? fmt::format("{}", plan.seeds)
                    : point.seeds
                        ? fmt::format("about {}", *point.seeds)
                        : fmt::format("at best {} sure", percent_beside(point.best_assurance, goal.assurance)),
                    chosen});
  }
  return rows;
}

}  // namespace strikebed::print
