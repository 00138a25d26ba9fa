#pragma once
// Entries that may tell one thing twice: two people at one tray, each with a phone. They are shown, and count until one
// of them is withdrawn.
#include <cstdint>
#include <optional>
#include <unordered_map>
#include <vector>

#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// From one to the next of them at most.
inline constexpr std::int64_t kTwinsWithinMs = 10 * 60 * 1000;

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
  [[nodiscard]] std::vector<PossibleDouble> find(const Counts& counts) const {
    std::vector<PossibleDouble> found;
    for (const std::uint64_t key : shared_) {
      std::vector<const Entry*> alike;
      for (const Entry* entry : by_content_.at(key)) {
        if (counts(*entry)) alike.push_back(entry);
      }
      add_runs(alike, found);
    }
    sort(found);
    return found;
  }

 private:
  static void add_runs(std::vector<const Entry*>& alike, std::vector<PossibleDouble>& found);
  static void sort(std::vector<PossibleDouble>& found);

  std::unordered_map<std::uint64_t, std::vector<const Entry*>> by_content_;
  std::vector<std::uint64_t> shared_;  ///< contents of more than one entry
};

}  // namespace strikebed::daybook
