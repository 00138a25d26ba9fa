#pragma once
// Entries that may tell one thing twice: two people at one tray, each with a phone. They are shown, and count until one
// of them is withdrawn.
#include <algorithm>
#include <cstdint>
#include <optional>
#include <vector>

#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// From one to the next of them at most.
inline constexpr std::int64_t kTwinsWithinMs = 600'000;

/// About the same batch, of one kind, with the same numbers and words but for notes and moments, within minutes, and
/// not all from one device.
struct PossibleDouble {
  std::optional<EntryId> batch;
  std::vector<EntryId> entries;  ///< two or more, in order
  bool operator==(const PossibleDouble&) const = default;
};

class Doubles {
 public:
  void add(const Entry& entry);  ///< the entry stays where it is

  /// Of the entries that `counts` says count, in the order of their first.
  template <class Counts>
  [[nodiscard]] std::vector<PossibleDouble> find(const Counts& counts) {
    sort();
    std::vector<PossibleDouble> found;
    std::vector<const Entry*> alike;
    for (std::size_t first = 0, end = 0; first < all_.size(); first = end) {
      for (end = first + 1; end < all_.size() && all_[end].content == all_[first].content;) ++end;
      if (end == first + 1) continue;
      alike.clear();
      for (std::size_t i = first; i < end; ++i) {
        if (counts(*all_[i].entry)) alike.push_back(all_[i].entry);
      }
      add_runs(alike, found);
    }
    std::ranges::sort(found, {}, [](const PossibleDouble& one) { return one.entries.front(); });
    return found;
  }

 private:
  struct Known {
    std::uint64_t content;  ///< the same of those that have all in common; made when it is first asked for
    const Entry* entry;
  };
  void sort();
  static void add_runs(const std::vector<const Entry*>& alike, std::vector<PossibleDouble>& found);

  std::vector<Known> all_;
  std::size_t sorted_ = 0;  ///< so many at the beginning, by content and then in the order of entries
};

}  // namespace strikebed::daybook
