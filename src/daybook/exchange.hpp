#pragma once
// Two copies of a daybook become one set: docs/exchange.md. Copies are compared by digests over ranges of ids, where
// they differ by the ids themselves, and what is missing is handed over. An answer is a function of the set and of the
// message alone: neither end keeps anything in mind, and either may gain entries meanwhile.
//
//   A: opening(ids)  ->  B: takes the entries in, answer(ids, message)  ->  A: the same ... until an answer is empty
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "daybook/entry.hpp"
#include "daybook/sha256.hpp"

namespace strikebed::daybook {

inline constexpr int kExchangeVersion = 1;
inline constexpr std::size_t kListedAtMost = 32;   ///< ids in a range: fewer are listed, more are split
inline constexpr std::size_t kParts = 16;          ///< of a range that is split
inline constexpr std::size_t kRangesAtMost = 64;   ///< in a message
inline constexpr std::size_t kGivenAtMost = 1000;  ///< entries in a message that were not asked for

/// The ids from one to another, both included: their digest, or all of them, in order.
struct IdRange {
  EntryId from;
  EntryId to;
  std::variant<Digest, std::vector<EntryId>> holds;
  bool operator==(const IdRange&) const = default;
};

struct Message {
  std::vector<IdRange> ranges;  ///< in order, none reaching into the next
  std::vector<EntryId> wanted;
  std::vector<Entry> entries;

  /// Nothing is left to say: it need not be sent.
  [[nodiscard]] bool is_empty() const { return ranges.empty() && wanted.empty() && entries.empty(); }
  bool operator==(const Message&) const = default;
};

/// Of ids in order: SHA-256 of their bytes, 16 each, the highest first.
[[nodiscard]] Digest digest_of(std::span<const EntryId> ids);

/// The first message, of a copy that holds these ids; ids are in order everywhere here.
[[nodiscard]] Message opening(std::span<const EntryId> ids);

/// What is answered by a copy that holds these ids, the message's own entries among them by now.
///   find  an entry by its id; nothing where it is not there
[[nodiscard]] Message answer(std::span<const EntryId> ids, const Message& message,
                             const std::function<std::optional<Entry>(const EntryId&)>& find);

/// JSON in lines: the message without its entries, then each of these.
[[nodiscard]] std::string message_text(const Message& message);
/// Errors: no such message, a later version, ranges or ids out of order, an entry that cannot be read (with its line);
/// then none of it is to be taken in.
[[nodiscard]] Result<Message> read_message(std::string_view text);

}  // namespace strikebed::daybook
