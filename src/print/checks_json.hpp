#pragma once
// The published checks as one JSON document (docs/json.md).
#include <span>
#include <string>

#include "print/check.hpp"

namespace strikebed::print {

/// {"checks": [{"id", "topic", "title", "source", "how_known", "note", "expected", "computed", "tolerance", "holds",
/// "problem"}], "held", "total"}; expected, computed and tolerance are keyed by the name of the figures.
[[nodiscard]] std::string checks_json(std::span<const Check> checks);

}  // namespace strikebed::print
