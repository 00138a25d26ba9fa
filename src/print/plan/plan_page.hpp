#pragma once
// The plan as one page of HTML that needs nothing else: no network, no script, no other file.
#include <string>

#include "print/plan/plan_notes.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// The plan as a sentence, then pictures (each with its numbers in a table), then lists. Reads on a phone, on a screen
/// and on A4. Everything that comes from a file is escaped. UTF-8.
[[nodiscard]] std::string plan_page(const season::Goal& goal, const season::Plan& plan, const PlanNotes& notes);

}  // namespace strikebed::print
