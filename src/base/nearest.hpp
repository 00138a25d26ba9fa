#pragma once
// "Did you mean": the known word nearest to a mistyped one.
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace strikebed {

/// The known word with the fewest single-letter edits from `word` (swapped neighbours count as one), if at most a third
/// of its letters (and at least one edit) away; else the only one that begins with it, if it has three letters or more;
/// nothing otherwise.
[[nodiscard]] std::optional<std::string> nearest_word(std::string_view word, std::span<const std::string_view> known);

/// ` (did you mean "..."?)` when a known word is near, else nothing.
[[nodiscard]] std::string did_you_mean(std::string_view word, std::span<const std::string_view> known);

}  // namespace strikebed
