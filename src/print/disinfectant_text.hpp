#pragma once
// A disinfectant in words for a terminal, and as one JSON document (docs/json.md).
#include <string>

#include "mix/disinfectant.hpp"
#include "print/measures.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {

[[nodiscard]] std::string disinfectant_text(const mix::DisinfectantRequest& request,
                                            const mix::Disinfectant& disinfectant, Beside beside,
                                            int width = kUsualWidth);
/// Keys are stable and carry their units; what is not known is null. Ends with a line break.
[[nodiscard]] std::string disinfectant_json(const mix::DisinfectantRequest& request,
                                            const mix::Disinfectant& disinfectant);

}  // namespace strikebed::print
