#include "daybook/state.hpp"

#include <algorithm>
#include <set>
#include <utility>

namespace strikebed::daybook {
namespace {

using Links = std::vector<Link> Batch::*;

/// All that the links lead to from some batches.
std::set<EntryId> reached(const State& state, std::vector<EntryId> open, Links links) {
  std::set<EntryId> found;
  while (!open.empty()) {
    const auto at = state.batches.find(open.back());
    open.pop_back();
    if (at == state.batches.end()) continue;
    for (const Link& link : at->second.*links) {
      if (state.batches.contains(link.batch) && found.insert(link.batch).second) open.push_back(link.batch);
    }
  }
  return found;
}

std::vector<EntryId> listed(const std::set<EntryId>& ids) { return {ids.begin(), ids.end()}; }

/// A walk along links within some batches, without recursion: a line of descent may be long.
class Walk {
 public:
  Walk(const State& state, const std::vector<EntryId>& within, Links links)
      : state_(state), unseen_(within.begin(), within.end()), links_(links) {}

  /// What was not seen yet and is reached from a batch, each after all that it leads to.
  std::vector<EntryId> from(const EntryId& batch) {
    std::vector<EntryId> done;
    std::vector<std::pair<EntryId, std::size_t>> path;  // with the next link to go
    if (unseen_.erase(batch) > 0) path.emplace_back(batch, 0);
    while (!path.empty()) {
      auto& [at, next] = path.back();
      const std::vector<Link>& links = state_.batches.at(at).*links_;
      if (next == links.size()) {
        done.push_back(at);
        path.pop_back();
      } else if (const EntryId to = links[next++].batch; unseen_.erase(to) > 0) {
        path.emplace_back(to, 0);
      }
    }
    return done;
  }

 private:
  const State& state_;
  std::set<EntryId> unseen_;
  Links links_;
};

bool leads_to_itself(const Batch& batch) {
  return std::ranges::any_of(batch.into, [&](const Link& link) { return link.batch == batch.id; });
}

/// The entries that make a ring of its batches.
Contradiction own_ancestor(const State& state, const std::vector<EntryId>& ring) {
  std::set<EntryId> entries;
  for (const EntryId& id : ring) {
    for (const Link& link : state.batches.at(id).from) {
      if (std::ranges::binary_search(ring, link.batch)) entries.insert(link.entry);
    }
  }
  return {ContradictionKind::own_ancestor, ring.front(), listed(entries)};
}

void add_same_codes(const State& state, std::vector<Contradiction>& all) {
  std::map<std::string_view, std::vector<EntryId>> by_code;
  for (const auto& [id, batch] : state.batches) by_code[batch.code].push_back(id);
  for (const auto& [code, ids] : by_code) {
    if (ids.size() > 1) {
      all.push_back({ContradictionKind::same_code, ids.front(), ids, static_cast<double>(ids.size())});
    }
  }
}

}  // namespace

std::map<std::string, std::vector<EntryId>> benches(const State& state) {
  std::map<std::string, std::vector<EntryId>> on;
  for (const auto& [id, batch] : state.batches) {
    if (!batch.bench.empty() && batch.left.value_or(1) > 0) on[batch.bench].push_back(id);
  }
  return on;
}

std::vector<EntryId> ancestors(const State& state, const EntryId& batch) {
  return listed(reached(state, {batch}, &Batch::from));
}

std::vector<EntryId> descendants(const State& state, const std::vector<EntryId>& batches) {
  return listed(reached(state, batches, &Batch::into));
}

std::vector<std::pair<EntryId, Plants>> by_batch(const std::vector<Link>& links, const State& state) {
  std::map<EntryId, Plants> sums;
  for (const Link& link : links) sums[link.batch] += link.number;
  std::vector<std::pair<EntryId, Plants>> oldest_first(sums.begin(), sums.end());
  std::ranges::stable_sort(oldest_first, {}, [&](const auto& one) {
    const auto found = state.batches.find(one.first);
    return found == state.batches.end() ? 0 : found->second.began.ms;
  });
  return oldest_first;
}

std::vector<EntryId> lots_of(const State& state, const EntryId& batch) {
  std::set<EntryId> lots;
  std::set<EntryId> batches = reached(state, {batch}, &Batch::from);
  batches.insert(batch);
  for (const EntryId& id : batches) {
    const auto found = state.batches.find(id);
    if (found != state.batches.end() && found->second.lot) lots.insert(*found->second.lot);
  }
  return listed(lots);
}

std::vector<Contradiction> contradictions_of(const State& state) {
  std::vector<Contradiction> all;
  const auto add = [&](const std::vector<Contradiction>& some) { all.insert(all.end(), some.begin(), some.end()); };
  for (const auto& [id, batch] : state.batches) add(batch.contradictions);
  for (const auto& [id, stock] : state.stocks) add(stock.contradictions);
  for (const auto& [id, goal] : state.goals) add(goal.contradictions);
  for (const auto& [id, some] : state.elsewhere) add(some);
  for (const auto& ring : state.rings) all.push_back(own_ancestor(state, ring));
  add_same_codes(state, all);
  std::ranges::sort(all);
  return all;
}

// Kosaraju's two walks: one down that notes who is done when, one up from the last that was done.
std::vector<std::vector<EntryId>> rings_among(const State& state, const std::vector<EntryId>& batches) {
  std::vector<EntryId> order;
  Walk down(state, batches, &Batch::into);
  for (const EntryId& id : batches) {
    const std::vector<EntryId> done = down.from(id);
    order.insert(order.end(), done.begin(), done.end());
  }
  std::vector<std::vector<EntryId>> rings;
  Walk up(state, batches, &Batch::from);
  for (auto id = order.rbegin(); id != order.rend(); ++id) {
    std::vector<EntryId> together = up.from(*id);
    if (together.empty() || (together.size() == 1 && !leads_to_itself(state.batches.at(together.front())))) continue;
    std::ranges::sort(together);
    rings.push_back(std::move(together));
  }
  std::ranges::sort(rings);
  return rings;
}

}  // namespace strikebed::daybook
