#pragma once
// A whole copy of the daybook, held in memory by a home that keeps its entries elsewhere.
#include <cstddef>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/fold.hpp"
#include "nursery/daybook/note.hpp"

namespace strikebed::nursery {

class DaybookCopy {
 public:
  [[nodiscard]] daybook::Fold& fold() { return fold_; }
  [[nodiscard]] std::size_t entries() const { return fold_.size(); }

  /// The entries of an exported document. Returns those that were new, as they are kept. Errors: those of
  /// daybook::read_document; then none is taken.
  [[nodiscard]] Result<std::vector<std::string>> take(std::string_view document);

  /// Entries as they are kept, one each. Returns how many were new. Errors: those of daybook::read_kept_entry, with the
  /// entry's number as the line; then none is taken.
  [[nodiscard]] Result<std::size_t> take(const std::vector<std::string>& entries);

  /// One step of bringing two copies together (docs/exchange.md): takes in what came.
  ///   message  from the other end; empty: none yet
  struct Exchanged {
    std::optional<std::string> message;  ///< for the other end; nothing: both hold the same
    std::vector<std::string> added;      ///< entries that are new here, as they are kept
  };
  /// Errors: those of daybook::read_message.
  [[nodiscard]] Result<Exchanged> exchange(std::string_view message);

 private:
  std::vector<std::string> add(std::vector<daybook::Entry> entries);  ///< returns the new ones
  daybook::Fold fold_;
};

/// What a home without a clock of its own gives to a note: it was told the moment, ISO 8601 in full, and other days are
/// taken to be as far from UTC. Nothing: that is no moment.
[[nodiscard]] std::optional<NoteMeans> means_at(std::string_view now, std::function<std::uint64_t()> random_bits,
                                                std::function<Result<std::string>(const std::string& path)> read_file);

}  // namespace strikebed::nursery
