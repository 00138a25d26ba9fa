#pragma once
// How well a value is known, in words.
#include <string_view>

#include "base/profile_value.hpp"

namespace strikebed::print {

/// "measured and published", "fair" or "a guess".
[[nodiscard]] std::string_view trust_words(Trust trust);

}  // namespace strikebed::print
