#pragma once
// How sessions are held: how often, and how ripe to let a seedling get before it is struck.
#include <string>
#include <string_view>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// "day", "half_week", "week", ...: one word for files.
[[nodiscard]] std::string_view rhythm_word(season::Rhythm rhythm);
/// "every third Saturday".
[[nodiscard]] std::string_view rhythm_words(season::Rhythm rhythm);

/// Which seedlings to strike from a session on, as an instruction.
[[nodiscard]] std::string strike_words(const season::StrikeStep& step);
/// The strike rule in sentences; nothing where nothing is struck.
[[nodiscard]] std::string strike_rule(const season::Plan& plan);

/// The rhythm that the plan has chosen, and why; nothing where the goal says the days.
[[nodiscard]] std::string rhythm_sentence(const season::Plan& plan);
/// The other rhythms: name, days at the bench, seeds. Empty where the goal says the days.
struct RhythmRow {
  std::string name;
  std::string days;
  std::string seeds;
  bool chosen;
};
[[nodiscard]] std::vector<RhythmRow> rhythm_rows(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print
