#pragma once
// Ids and digests as the bytes of a column, which stand in the order of the ids.
#include <optional>
#include <string>
#include <string_view>

#include "daybook/entry_id.hpp"
#include "daybook/sha256.hpp"

namespace strikebed::host {

/// 16 bytes, the highest first.
[[nodiscard]] std::string key_of(const daybook::EntryId& id);
/// Nothing where there are not 16.
[[nodiscard]] std::optional<daybook::EntryId> id_of(std::string_view key);

[[nodiscard]] std::string key_of(const daybook::Digest& digest);
/// Nothing where there are not 32.
[[nodiscard]] std::optional<daybook::Digest> digest_of(std::string_view key);

}  // namespace strikebed::host
