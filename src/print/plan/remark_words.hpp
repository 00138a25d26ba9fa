#pragma once
// What the grower should mind, in words.
#include <string>
#include <vector>

#include "print/plan/plan_notes.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// `names`: what the reader's controls for the goal's fields are called; where one has none, nobody is sent there.
[[nodiscard]] std::string remark_words(const season::Goal& goal, const season::Remark& remark, const FieldNames& names);

/// All there is to mind: what the plan remarks on, then what the reading did.
[[nodiscard]] std::vector<std::string> remark_sentences(const season::Goal& goal, const season::Plan& plan,
                                                        const PlanNotes& notes);

}  // namespace strikebed::print
