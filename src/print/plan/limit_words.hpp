#pragma once
// What stands in the way of a goal, and what would help, in words.
#include <string>
#include <string_view>
#include <vector>

#include "base/field_names.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] std::string_view limit_word(season::LimitKind kind);  ///< "date", "window", "room", "rate", "warmth" or
                                                                    ///< "chilling"
/// `names`: what the reader's controls for the goal's fields are called.
[[nodiscard]] std::string limit_words(const season::Goal& goal, const season::Limit& limit, const FieldNames& names);
/// All of them, each after its word: "room: there is room for ...".
[[nodiscard]] std::vector<std::string> limit_sentences(const season::Goal& goal, const season::Plan& plan,
                                                       const FieldNames& names);
/// What holds for all of them; empty where nothing need be said.
[[nodiscard]] std::string limits_note(const season::Plan& plan);
/// What they stand under: "What stands in the way" of a goal that is not met, else "What limits this plan".
[[nodiscard]] std::string_view limits_title(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print
