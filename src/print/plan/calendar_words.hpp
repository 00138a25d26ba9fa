#pragma once
// What to do when, in words.
#include <string>
#include <string_view>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] std::string_view calendar_word(season::CalendarKind kind);  ///< one for programs: "sow", "session"
/// The instruction: "Sow 412 seeds (5.9 g), 5-8 mm deep, grit over them".
[[nodiscard]] std::string calendar_words(const season::Goal& goal, const season::Plan& plan,
                                         const season::CalendarEntry& entry);
[[nodiscard]] std::string_view band_name(season::BandKind kind);  ///< "cutting window"

}  // namespace strikebed::print
