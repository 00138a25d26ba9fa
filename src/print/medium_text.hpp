#pragma once
// A medium for people and for programs.
#include <string>
#include <vector>

#include "mix/medium.hpp"
#include "print/measures.hpp"

namespace strikebed::print {

/// Plain text of at most 100 columns.
[[nodiscard]] std::string medium_text(const mix::MediumAnswer& answer, const std::vector<std::string>& assumed,
                                      Beside beside);
/// One JSON document (docs/json.md), metric.
[[nodiscard]] std::string medium_json(const mix::MediumAnswer& answer, const std::vector<std::string>& assumed);

}  // namespace strikebed::print
