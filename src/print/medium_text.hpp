#pragma once
// A medium for people and for programs.
#include <string>

#include "base/field_names.hpp"
#include "mix/medium.hpp"
#include "print/measures.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

/// Plain text. `names`: what the reader's controls are called.
[[nodiscard]] std::string medium_text(const mix::MediumAnswer& answer, const FieldNames& names, Beside beside,
                                      int width = kUsualWidth);
/// One JSON document (docs/json.md), metric.
[[nodiscard]] std::string medium_json(const mix::MediumAnswer& answer);

}  // namespace strikebed::print
