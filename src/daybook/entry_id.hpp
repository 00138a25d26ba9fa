#pragma once
// What an entry is known by, everywhere and for ever: 128 random bits, drawn where the entry was written and handed in.
#include <compare>
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "base/random.hpp"

namespace strikebed::daybook {

/// In order they are one number, the high half first.
struct EntryId {
  std::uint64_t high = 0;
  std::uint64_t low = 0;
  auto operator<=>(const EntryId&) const = default;
};

struct EntryIdHash {
  std::size_t operator()(const EntryId& id) const { return static_cast<std::size_t>(mixed_bits(id.high) ^ id.low); }
};

/// 32 digits of base 16, the letters small. Texts of ids are in the order of the ids.
[[nodiscard]] std::string to_text(const EntryId& id);
/// Nothing when it is not just that.
[[nodiscard]] std::optional<EntryId> parse_entry_id(std::string_view text);

}  // namespace strikebed::daybook
