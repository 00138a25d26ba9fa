#pragma once
// What cannot all be true of the entries. It is named with the entries that it comes from, and never repaired: what
// they say is taken as they say it.
#include <compare>
#include <optional>
#include <vector>

#include "daybook/entry_id.hpp"

namespace strikebed::daybook {

enum class ContradictionKind {
  not_there,                ///< entries name something that has not come, or was withdrawn
  wrong_kind,               ///< entries name a thing of one kind as another
  before_it_began,          ///< an entry happened before what it is about was there
  count_above_what_exists,  ///< `found` counted, where there were `expected`
  more_taken_than_there,    ///< `found` taken out, where there were `expected`
  own_ancestor,             ///< batches that come from each other in a ring; about the first of them
  same_code,                ///< batches, `found` of them, with one code; about the first of them
  withdrawal_ring,          ///< withdrawals that withdraw each other in a ring, so that none of them is one
  same_id,  ///< `found` different entries came under one id; the first in the order of their JSON stands
};

struct Contradiction {
  ContradictionKind kind{};
  EntryId about;  ///< the batch, lot, bottle, goal or entry
  std::vector<EntryId> entries;
  std::optional<double> found = {};
  std::optional<double> expected = {};
  auto operator<=>(const Contradiction&) const = default;
};

}  // namespace strikebed::daybook
