#pragma once
// What the entries about a batch come to. A count is a level: it says how many are left, whatever differences were
// written before it; losses and all that is taken out are differences from there on.
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "daybook/contradiction.hpp"
#include "daybook/mention.hpp"

namespace strikebed::daybook {

/// Of plants or seeds, in sums that no number of entries overflows.
using Plants = std::int64_t;

/// A batch that another one came from, or went into.
struct Link {
  EntryId batch;
  int number = 0;  ///< seeds or plants
  EntryId entry;   ///< that says so
  bool operator==(const Link&) const = default;
};

/// A count, and what the book said at that moment.
struct Look {
  EntryId entry;
  Moment when;
  Counted counted;
  std::optional<Plants> before;  ///< left before it; nothing: not known
  std::optional<Plants> after;
  bool operator==(const Look&) const = default;
};

/// The cuttings with roots when that was last looked for in all of them, and those that may still root. Both are as
/// they were then; what was lost since is not known to be of the one or the other.
struct Rooting {
  EntryId entry;
  int rooted = 0;
  std::optional<Plants> undecided;  ///< green and unrooted; nothing: it cannot be told how many
  bool operator==(const Rooting&) const = default;
};

struct Grading {
  Plants fit = 0;
  Plants of = 0;
  bool operator==(const Grading&) const = default;
};

struct Batch {
  EntryId id;
  std::string code;
  std::string label;
  std::string species;  ///< where no lot says it
  Holds holds = Holds::seeds;
  Moment began;
  std::optional<EntryId> lot;
  std::vector<Link> from;  ///< up: batches that it came from
  std::vector<Link> into;  ///< down: batches that came from it

  std::optional<Plants> begun_with;  ///< nothing: not known
  std::optional<Plants> left;        ///< below 0 where more was taken out than was there
  Plants brought = 0;                ///< struck into it, group by group
  Plants moved_on = 0;               ///< into other batches, struck ones included
  Plants given = 0;
  Plants sold = 0;
  Plants used_up = 0;      ///< in destructive checks
  Plants unaccounted = 0;  ///< fewer at counts than the book said, with no loss written; below 0: more
  std::array<Plants, kLossCauseNames.size()> losses{};
  Plants controls = 0;  ///< still in it

  std::vector<Look> looks;                                ///< in order
  std::optional<Rooting> rooting;                         ///< at the last look
  std::array<Grading, kBaseFormNames.size()> gradings{};  ///< of each form, all of them together
  std::string bench;                                      ///< empty: not said
  std::vector<EntryId> entries;                           ///< its history, in order
  std::vector<Contradiction> contradictions;
  bool operator==(const Batch&) const = default;
};

/// From the entries that mention it, its own first one among them.
[[nodiscard]] Batch fold_batch(const EntryId& id, Timeline timeline);

/// The number that a count says is left, where it says that: it is of the whole batch and uses nothing up, and gives
/// the alive, or all four signs, or the rooted with the undecided (or green).
[[nodiscard]] std::optional<int> level_of(const Counted& counted);

}  // namespace strikebed::daybook
