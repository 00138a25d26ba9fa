#pragma once
// What a set of entries comes to: the same for the same set, in whatever order they came.
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "daybook/batch.hpp"
#include "daybook/contradiction.hpp"
#include "daybook/stock.hpp"

namespace strikebed::daybook {

/// A goal, and what was planned and foretold for it, in order.
struct GoalRecord {
  EntryId id;
  std::string name;
  std::vector<EntryId> plans;
  std::vector<EntryId> forecasts;
  std::vector<Contradiction> contradictions;
  bool operator==(const GoalRecord&) const = default;
};

struct State {
  std::map<EntryId, Batch> batches;
  std::map<EntryId, Stock> stocks;
  std::map<EntryId, GoalRecord> goals;
  /// Of what is none of these, or is not there, by its id.
  std::map<EntryId, std::vector<Contradiction>> elsewhere;
  /// Batches that come from each other; each ring in the order of ids, the rings in the order of their first.
  std::vector<std::vector<EntryId>> rings;
  bool operator==(const State&) const = default;
};

/// The batches that stand on each bench that was named and is not empty of them, in the order of their ids. A batch of
/// which nothing is left stands nowhere.
[[nodiscard]] std::map<std::string, std::vector<EntryId>> benches(const State& state);

/// All batches that it came from, or that came from it, near and far, in the order of their ids; itself among them only
/// where it is in a ring.
[[nodiscard]] std::vector<EntryId> ancestors(const State& state, const EntryId& batch);
[[nodiscard]] std::vector<EntryId> descendants(const State& state, const std::vector<EntryId>& batches);
/// So many to or from each batch, however many links say so; the oldest batch first.
[[nodiscard]] std::vector<std::pair<EntryId, Plants>> by_batch(const std::vector<Link>& links, const State& state);
/// The lots that it and its ancestors came from, in the order of their ids.
[[nodiscard]] std::vector<EntryId> lots_of(const State& state, const EntryId& batch);

/// All of the state, in a fixed order; those of withdrawals and ids are the fold's.
[[nodiscard]] std::vector<Contradiction> contradictions_of(const State& state);

/// The rings of batches among some, which are all that come from any of them.
[[nodiscard]] std::vector<std::vector<EntryId>> rings_among(const State& state, const std::vector<EntryId>& batches);

}  // namespace strikebed::daybook
