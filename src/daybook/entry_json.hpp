#pragma once
// An entry as one JSON object in one line: docs/daybook-format.md. Equal entries give equal bytes: the keys stand in
// one order, what is left out is left out, and numbers are as short as they can be and still the same number (as
// ECMAScript writes them).
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

inline constexpr int kFormatVersion = 1;
inline constexpr std::size_t kLargestEntry = std::size_t{1} << 20;  ///< bytes

[[nodiscard]] std::string entry_json(const Entry& entry);

/// Errors: not one JSON object; a key, kind or word that the format does not have; a value of the wrong type or out of
/// range; a key that must be there and is not; fields that cannot be true together. All of them at once, each with the
/// dotted key as its field. An entry of a later version is no error: it becomes Unread, with the id, and the moments
/// where they are as in this version.
[[nodiscard]] Result<Entry> read_entry(std::string_view json);

/// The body alone, for a store that keeps the rest of the entry in columns. Not for Unread, which has only its whole.
[[nodiscard]] std::string body_json(const Body& body);
/// Errors: as above.
[[nodiscard]] Result<Body> read_body(std::string_view kind, std::string_view json);

/// What is wrong with an entry that was made in memory: what reading it back would say.
[[nodiscard]] std::optional<Error> error_of(const Entry& entry);

}  // namespace strikebed::daybook
