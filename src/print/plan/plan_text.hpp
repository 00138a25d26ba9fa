#pragma once
// The plan as a sheet of plain text, to read in a terminal or to print and pin to the wall.
#include <string>

#include "print/plan/plan_notes.hpp"
#include "print/text_table.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// The whole plan in words, tables and a chart of the season. UTF-8, ends with a line break.
///   width    characters in a line; below 60: 60 (a word or a table that is wider stands out)
[[nodiscard]] std::string plan_text(const season::Goal& goal, const season::Plan& plan, const PlanNotes& notes,
                                    int width = kUsualWidth);

}  // namespace strikebed::print
