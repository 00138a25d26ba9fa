#pragma once
// Whether entries can be true beside a daybook.
#include <optional>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"

namespace strikebed::nursery {

/// What they would contradict, in words; nothing where they do not. Only what they mention is looked at.
[[nodiscard]] std::optional<Error> contradicts(daybook::Fold& fold, const std::vector<daybook::Entry>& entries);

}  // namespace strikebed::nursery
