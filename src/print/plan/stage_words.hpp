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

/// Which rate, practised as well as is believed possible, would save most seeds; nothing where none would.
[[nodiscard]] std::string best_practice_sentence(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print
