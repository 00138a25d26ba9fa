#include "nursery/daybook/contradicts.hpp"

#include <algorithm>
#include <set>

#include "print/daybook/contradiction_words.hpp"

namespace strikebed::nursery {
namespace {

using namespace daybook;

std::vector<EntryId> history_of(const State& state, const EntryId& id) {
  if (const auto batch = state.batches.find(id); batch != state.batches.end()) return batch->second.entries;
  if (const auto stock = state.stocks.find(id); stock != state.stocks.end()) return stock->second.entries;
  return {id};
}

/// The histories of all that the entries mention, and of each of their entries what it mentions itself, so that
/// nothing seems not to be there.
std::set<EntryId> what_they_touch(Fold& fold, const std::vector<Entry>& entries) {
  const State& state = fold.state();
  std::set<EntryId> touched;
  for (const Entry& entry : entries) {
    each_reference(entry, [&](const EntryId& id, Refers) {
      for (const EntryId& one : history_of(state, id)) touched.insert(one);
    });
  }
  std::set<EntryId> all = touched;
  for (const EntryId& id : touched) {
    if (const Entry* entry = fold.find(id))
      each_reference(*entry, [&](const EntryId& one, Refers) { all.insert(one); });
  }
  return all;
}

}  // namespace

std::optional<Error> contradicts(Fold& fold, const std::vector<Entry>& entries) {
  Fold trial;
  for (const EntryId& id : what_they_touch(fold, entries)) {
    if (const Entry* entry = fold.find(id)) trial.add(*entry);
  }
  for (const Entry& entry : entries) trial.add(entry);
  const auto is_new = [&](const EntryId& id) { return std::ranges::find(entries, id, &Entry::id) != entries.end(); };
  for (const Contradiction& one : trial.contradictions()) {
    if (std::ranges::none_of(one.entries, is_new)) continue;
    return Error{.problem = print::contradiction_words(one, trial.state()),
                 .allowed = "what can be true beside the daybook (strikebed batches); or <anyway>, if it is so"};
  }
  return std::nullopt;
}

}  // namespace strikebed::nursery
