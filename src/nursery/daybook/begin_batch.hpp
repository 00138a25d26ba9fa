#pragma once
// Batches that begin with a note.
#include <cstdint>
#include <optional>
#include <string>

#include "base/date.hpp"
#include "base/result.hpp"
#include "daybook/fold.hpp"

namespace strikebed::nursery {

/// The next code of a device: with its mark, or with one that no other device has where it starts its first batch.
[[nodiscard]] std::string new_code(daybook::Fold& fold, const std::string& device, std::uint64_t random_bits);

/// The batch of cuttings into which a device struck seedlings of a batch on that day already.
[[nodiscard]] std::optional<daybook::EntryId> cuttings_of_today(daybook::Fold& fold, const daybook::EntryId& seedlings,
                                                                const std::string& device, Date day);

/// Fills in that all that is left of each goes into the batch. Errors: of one it is not known, or nothing is left.
[[nodiscard]] std::optional<Error> pooled(const daybook::State& state, daybook::BatchStarted& begun);

}  // namespace strikebed::nursery
