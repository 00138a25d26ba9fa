#pragma once
// Where the plants are lost on the way from the seed to the plant that counts, and what would pay most.
#include <string>
#include <string_view>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] std::string_view stage_word(season::Stage stage);   ///< "sown", "emerged", ...: one word for files
[[nodiscard]] std::string_view stage_words(season::Stage stage);  ///< "come up"
/// Why those are lost that do not reach a stage from the one before.
[[nodiscard]] std::string_view loss_words(season::Stage stage);

/// A stage as it is shown: whole plants, so that what is lost adds up.
struct StageLine {
  std::string words;
  long plants = 0;
  double share = 0;  ///< of what was sown
  long lost = 0;     ///< since the stage before
  std::string causes;
};
/// Nothing where nothing is sown.
[[nodiscard]] std::vector<StageLine> stage_lines(const season::Plan& plan);
/// What the numbers of the stages are, and what would pay most.
[[nodiscard]] std::string stages_sentence(const season::Goal& goal, const season::Plan& plan);

/// Which rate, practised as well as is believed possible, would save most seeds; nothing where none would.
[[nodiscard]] std::string best_practice_sentence(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print
