#pragma once
// The plan for machines. Every key is documented in docs/json.md, and a test holds the two together.
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

/// The plan as one JSON object. Keys are stable: new ones may be added, none is renamed or removed. Dates ISO 8601,
/// numbers always finite (null where a number is not known), units in the key.
///   assumed  sentences on what the goal left open and where it was taken from
[[nodiscard]] nlohmann::ordered_json plan_json(const season::Goal& goal, const season::Plan& plan,
                                               const std::vector<std::string>& assumed);

}  // namespace strikebed::print
