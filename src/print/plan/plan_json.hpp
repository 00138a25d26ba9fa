#pragma once
// The plan for machines. Every key is documented in docs/json.md, and a test holds the two together.
#include <nlohmann/json.hpp>
#include <string>

#include "print/plan/plan_notes.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// The plan as one JSON object. Keys are stable: new ones may be added, none is renamed or removed. Dates ISO 8601,
/// numbers always finite (null where a number is not known), units in the key.
[[nodiscard]] nlohmann::ordered_json plan_json(const season::Goal& goal, const season::Plan& plan,
                                               const PlanNotes& notes);

}  // namespace strikebed::print
