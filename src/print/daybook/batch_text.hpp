#pragma once
// Batches as text.
#include <string>

#include "daybook/fold.hpp"

namespace strikebed::print {

/// All that stand and of which something is left, then lots and bottles, and what cannot be true.
[[nodiscard]] std::string batches_text(daybook::Fold& fold, std::size_t width);
/// One of them: where it came from and went, what was counted and lost, its history.
[[nodiscard]] std::string batch_text(daybook::Fold& fold, const daybook::EntryId& id, std::size_t width);
/// In a line: "K427T: seeds of ridge 2026, 187 of 200 left, on tray".
[[nodiscard]] std::string batch_line(const daybook::Batch& batch, const daybook::State& state);

}  // namespace strikebed::print
