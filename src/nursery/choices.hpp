#pragma once
// What a question can be put together from: the species, methods and materials of the library, and the kinds of notes.
#include <string>

#include "base/result.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

/// One JSON document (docs/json.md). Errors: those of the profiles.
[[nodiscard]] Result<std::string> choices_json(const Library& library);

}  // namespace strikebed::nursery
