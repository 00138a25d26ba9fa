#include "print/plan/bench_words.hpp"

#include <fmt/format.h>

#include <array>
#include <cstddef>

#include "print/number_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

namespace {

struct RhythmWords {
  std::string_view word;
  std::string_view words;
};

const RhythmWords& row_of(season::Rhythm rhythm) {
  static constexpr std::array<RhythmWords, season::kRhythms.size()> kRows{{
      {"four_weeks", "every fourth Saturday"},
      {"three_weeks", "every third Saturday"},
      {"two_weeks", "every second Saturday"},
      {"week", "every Saturday"},
      {"half_week", "every Wednesday and Saturday"},
      {"day", "every day"},
  }};
  return kRows[static_cast<std::size_t>(rhythm)];
}

}  // namespace

std::string_view rhythm_word(season::Rhythm rhythm) { return row_of(rhythm).word; }
std::string_view rhythm_words(season::Rhythm rhythm) { return row_of(rhythm).words; }

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

std::string strike_rule(const season::Plan& plan) {
  std::string rule;
  std::string before;
  for (const season::StrikeStep& step : plan.strike) {
    const std::string words = strike_words(step);
    if (words == before) continue;
    rule +=
        rule.empty() ? fmt::format("Strike {}.", words) : fmt::format(" From {} on, {}.", date_words(step.from), words);
    before = words;
  }
  if (!rule.empty() && plan.habit.patience < season::kMostPatience) {
    rule += " That is earlier than is best for a seedling: no place at the bench may stay empty.";
  }
  return rule;
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
