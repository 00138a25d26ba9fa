#pragma once
// The daybook in memory: a set of entries, and what they come to. Entries come one at a time or by the thousand, in any
// order, more than once; the state can be asked at any moment, and is a function of the set alone.
//
// Withdrawals are resolved first. Then the entries that stand are taken in the order of happened, written, id, for each
// thing that they mention (a batch, a lot, a bottle, a goal) by itself: what an entry says of one batch needs no other
// batch to be understood. So an entry that comes folds anew what it mentions, and of the batches that come from those
// only whether they stand in a ring.
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <unordered_map>
#include <vector>

#include "daybook/doubles.hpp"
#include "daybook/entry.hpp"
#include "daybook/state.hpp"
#include "daybook/withdrawals.hpp"

namespace strikebed::daybook {

class Fold {
 public:
  Fold() = default;
  Fold(Fold&&) = default;
  Fold& operator=(Fold&&) = default;

  /// Whether it was new. The entry is a sound one (error_of).
  bool add(Entry entry);
  void add(std::vector<Entry> entries);

  [[nodiscard]] std::size_t size() const { return entries_.size(); }
  [[nodiscard]] const Entry* find(const EntryId& id) const;  ///< withdrawn or not; null: not there
  [[nodiscard]] std::vector<EntryId> ids() const;            ///< of all, in order

  // Asked now; each takes in what came since it was last asked.

  [[nodiscard]] bool stands(const EntryId& id);  ///< is there and not withdrawn
  [[nodiscard]] const State& state();
  /// As it was at a moment, of what is known today: entries that happened later are left out, and withdrawn ones too,
  /// whenever they were withdrawn.
  [[nodiscard]] State as_of(const Moment& moment);
  [[nodiscard]] std::vector<PossibleDouble> possible_doubles();
  /// All of the state, of withdrawals and of ids, in a fixed order.
  [[nodiscard]] std::vector<Contradiction> contradictions();
  [[nodiscard]] std::vector<EntryId> unread() const;  ///< entries of a later version, in order

  /// The largest counter among the codes made on a device, those of withdrawn batches too; nothing: it made none.
  [[nodiscard]] std::optional<std::int64_t> last_counter(int device_mark) const;

  /// Entries and links looked at so far, for tests of how work grows.
  [[nodiscard]] std::uint64_t work() const { return work_ + withdrawals_.work(); }

 private:
  /// A thing that entries mention; it may not be there.
  struct Subject {
    std::vector<Mention> mentions;  ///< by entries that were withdrawn, too
    bool in_order = true;
    bool is_stale = false;
  };
  using Subjects = std::unordered_map<EntryId, Subject, EntryIdHash>;

  void take_in(const Entry& entry);
  void take_other(Entry& here, Entry other);
  void start_anew();
  void mark(const EntryId& subject);
  void settle();
  [[nodiscard]] std::vector<Mention> standing(Subject& subject, std::optional<std::int64_t> until);
  void refold(const EntryId& id, Subject& subject, std::optional<std::int64_t> until, State& into);
  void renew_rings(const std::vector<EntryId>& relinked);

  std::unordered_map<EntryId, Entry, EntryIdHash> entries_;
  Subjects subjects_;
  std::vector<EntryId> stale_;
  Withdrawals withdrawals_;
  Doubles doubles_;
  State state_;
  std::map<EntryId, std::set<std::string>> variants_;  ///< of entries that came under one id: their JSON
  std::map<int, std::int64_t> counters_;               ///< the largest, by device mark
  std::uint64_t work_ = 0;
};

}  // namespace strikebed::daybook
