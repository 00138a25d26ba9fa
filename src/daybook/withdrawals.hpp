#pragma once
// Which entries stand: those that no standing withdrawal names. It is found from the set of entries alone; times and
// the order of arrival play no part.
#include <cstdint>
#include <unordered_map>
#include <vector>

#include "daybook/entry_id.hpp"

namespace strikebed::daybook {

class Withdrawals {
 public:
  void add(const EntryId& withdrawal, const EntryId& target);  ///< once for each withdrawal

  /// Takes in what was added. Returns the ids that stand no longer, or again; not in any order.
  [[nodiscard]] std::vector<EntryId> settle();

  // After settle():
  [[nodiscard]] bool stands(const EntryId& id) const;
  /// Withdrawals that withdraw each other in a ring, one of them alone among these: each has no effect. Each ring in
  /// the order of its ids, the rings in the order of their first.
  [[nodiscard]] std::vector<std::vector<EntryId>> rings() const;
  [[nodiscard]] std::uint64_t work() const { return work_; }  ///< links looked at so far

 private:
  /// An entry that withdraws or is withdrawn.
  struct Node {
    EntryId id;
    Node* target = nullptr;
    std::vector<const Node*> withdrawers = {};
    bool stands = true;
    int ring = 0;            ///< from 1; 0: in none
    std::uint64_t seen = 0;  ///< in which walk
    int waits_for = 0;       ///< withdrawers that are not settled yet
  };
  Node& node(const EntryId& id);
  void find_ring(Node* from, std::uint64_t first_walk);
  [[nodiscard]] static bool is_withdrawn(const Node& node);

  std::unordered_map<EntryId, Node, EntryIdHash> nodes_;
  std::vector<Node*> added_;
  std::uint64_t walk_ = 0;
  int rings_ = 0;
  std::uint64_t work_ = 0;
};

}  // namespace strikebed::daybook
