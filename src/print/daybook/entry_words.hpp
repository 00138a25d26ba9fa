#pragma once
// An entry of the daybook in a line of words.
#include <string>
#include <string_view>

#include "daybook/state.hpp"

namespace strikebed::print {

/// "#3f0c9f6c": so much of an id tells it from others.
[[nodiscard]] std::string short_id(const daybook::EntryId& id);
/// The code of a batch, or the name of a lot, a bottle or a goal; "one that is not there".
[[nodiscard]] std::string name_of(const daybook::EntryId& id, const daybook::State& state);
/// "counted: emerged 41 of 50 (a sample)", "lost: 2, dried"; without the batch it is about.
[[nodiscard]] std::string entry_words(const daybook::Entry& entry, const daybook::State& state);
/// "18 Apr 2027 09:30", by the clock of who wrote it.
[[nodiscard]] std::string moment_words(const daybook::Moment& moment);

}  // namespace strikebed::print
