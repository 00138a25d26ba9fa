#pragma once
// What a plan is being made of, in a few words.
#include "season/make_plan.hpp"

namespace strikebed::print {

[[nodiscard]] const char* progress_words(season::PlanPart part);  ///< "sowing dates"

}  // namespace strikebed::print
