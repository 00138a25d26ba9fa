#pragma once
// Batches, lots and bottles as JSON (docs/json.md): equal sets of entries give equal bytes.
#include <optional>

#include "daybook/fold.hpp"
#include "print/json.hpp"

namespace strikebed::print {

/// Of one batch, with its history; or of all.
[[nodiscard]] Json batches_json(daybook::Fold& fold, const std::optional<daybook::EntryId>& one);
[[nodiscard]] Json batch_json(const daybook::Batch& batch, const daybook::State& state);
/// An entry as it is kept, and in words.
[[nodiscard]] Json entry_told(const daybook::Entry& entry, const daybook::State& state);

}  // namespace strikebed::print
