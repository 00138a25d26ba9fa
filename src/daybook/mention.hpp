#pragma once
// An entry where it touches one thing: a batch, a lot, a bottle, a goal.
#include <span>
#include <tuple>

#include "daybook/entry.hpp"

namespace strikebed::daybook {

struct Mention {
  const Entry* entry = nullptr;
  Refers as = Refers::any;  ///< what the entry takes the thing for
};

/// In the order of their entries, and each entry once for each way in which it mentions the thing.
using Timeline = std::span<const Mention>;

/// The order of entries: when they happened, when they were written, their id.
[[nodiscard]] inline bool is_before(const Entry& a, const Entry& b) {
  return std::tie(a.happened.ms, a.written.ms, a.id) < std::tie(b.happened.ms, b.written.ms, b.id);
}

/// Calls with each entry of a timeline once, in order.
template <class Visit>
void each_entry(Timeline timeline, const Visit& visit) {
  const Entry* last = nullptr;
  for (const Mention& mention : timeline) {
    if (mention.entry != last) visit(*mention.entry);
    last = mention.entry;
  }
}

}  // namespace strikebed::daybook
