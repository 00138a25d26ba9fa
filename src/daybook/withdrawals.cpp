#include "daybook/withdrawals.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace strikebed::daybook {

Withdrawals::Node& Withdrawals::node(const EntryId& id) { return nodes_.try_emplace(id, Node{.id = id}).first->second; }

void Withdrawals::add(const EntryId& withdrawal, const EntryId& target) {
  Node& from = node(withdrawal);
  from.target = &node(target);
  from.target->withdrawers.push_back(&from);
  added_.push_back(&from);
}

/// A withdrawal has one target: what it leads to is a line, or ends in a ring. Where a walk since `first_walk` went,
/// none is to be found any more.
void Withdrawals::find_ring(Node* from, std::uint64_t first_walk) {
  const std::uint64_t walk = ++walk_;
  Node* at = from;
  for (; at && at->seen != walk; at = at->target) {
    if (at->ring != 0 || at->seen >= first_walk) return;
    at->seen = walk;
    ++work_;
  }
  if (!at) return;
  ++rings_;
  for (; at->ring == 0; at = at->target) at->ring = rings_;
}

bool Withdrawals::is_withdrawn(const Node& node) {
  return std::ranges::any_of(node.withdrawers, [](const Node* one) { return one->stands; });
}

std::vector<EntryId> Withdrawals::settle() {
  const std::uint64_t first_walk = walk_ + 1;
  for (Node* one : added_) find_ring(one, first_walk);
  // Who may stand otherwise than before: what was added, and all that it leads to.
  const std::uint64_t walk = ++walk_;
  std::vector<Node*> affected;
  for (Node* one : added_) {
    for (Node* at = one; at && at->seen < walk; at = at->target) {
      at->seen = walk;
      affected.push_back(at);
    }
  }
  added_.clear();
  for (Node* one : affected) {
    one->waits_for = 0;
    for (const Node* withdrawer : one->withdrawers) one->waits_for += withdrawer->seen == walk;
  }
  std::vector<Node*> ready;
  std::vector<EntryId> changed;
  for (Node* one : affected) {
    if (one->ring != 0) {
      if (std::exchange(one->stands, false)) changed.push_back(one->id);
    } else if (one->waits_for == 0) {
      ready.push_back(one);
    }
  }
  while (!ready.empty()) {
    Node* one = ready.back();
    ready.pop_back();
    work_ += 1 + one->withdrawers.size();
    const bool stands = !is_withdrawn(*one);
    if (std::exchange(one->stands, stands) != stands) changed.push_back(one->id);
    if (one->target && one->target->ring == 0 && --one->target->waits_for == 0) ready.push_back(one->target);
  }
  return changed;
}

bool Withdrawals::stands(const EntryId& id) const {
  const auto found = nodes_.find(id);
  return found == nodes_.end() || found->second.stands;
}

std::vector<std::vector<EntryId>> Withdrawals::rings() const {
  std::map<int, std::vector<EntryId>> by_ring;
  for (const auto& [id, node] : nodes_) {
    if (node.ring != 0) by_ring[node.ring].push_back(id);
  }
  std::vector<std::vector<EntryId>> rings;
  for (auto& [number, ring] : by_ring) {
    std::ranges::sort(ring);
    rings.push_back(std::move(ring));
  }
  std::ranges::sort(rings);
  return rings;
}

}  // namespace strikebed::daybook
