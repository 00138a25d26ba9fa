#pragma once
// A rooting solution in words for a terminal, and as one JSON document (docs/json.md).
#include <string>

#include "base/field_names.hpp"
#include "mix/solution.hpp"
#include "print/measures.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

/// `names`: what the reader's controls are called.
[[nodiscard]] std::string solution_text(const mix::SolutionRequest& request, const mix::Solution& solution,
                                        const FieldNames& names, Beside beside = Beside::nothing,
                                        int width = kUsualWidth);
/// Keys are stable and carry their units; what is not known is null. Ends with a line break.
[[nodiscard]] std::string solution_json(const mix::SolutionRequest& request, const mix::Solution& solution);

}  // namespace strikebed::print
