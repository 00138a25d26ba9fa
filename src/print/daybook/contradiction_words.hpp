#pragma once
// What cannot all be true in a daybook, and what may stand in it twice, in words.
#include <string>

#include "daybook/contradiction.hpp"
#include "daybook/doubles.hpp"
#include "daybook/state.hpp"

namespace strikebed::print {

[[nodiscard]] std::string contradiction_words(const daybook::Contradiction& one, const daybook::State& state);
/// For files: "count_above_what_exists".
[[nodiscard]] std::string_view contradiction_word(daybook::ContradictionKind kind);
[[nodiscard]] std::string double_words(const daybook::PossibleDouble& one, const daybook::State& state);

}  // namespace strikebed::print
