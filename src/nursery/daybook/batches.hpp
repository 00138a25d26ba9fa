#pragma once
// What a daybook says, in words and as JSON.
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "nursery/daybook/note.hpp"

namespace strikebed::nursery {

/// All batches, or the one of a code. Errors: no batch has it.
[[nodiscard]] Result<std::string> batches_words(daybook::Fold& fold, std::string_view code, int width);
[[nodiscard]] Result<std::string> batches_json(daybook::Fold& fold, std::string_view code);

/// What was understood, and how the batches that it is about stand now; the entries are in the fold by now.
[[nodiscard]] std::string words_of(const Noted& noted, daybook::Fold& fold, int width);
[[nodiscard]] std::string json_of(const Noted& noted, daybook::Fold& fold);

}  // namespace strikebed::nursery
