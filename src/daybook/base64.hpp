#pragma once
// Bytes as text: base 64 of RFC 4648, section 4, with its padding.
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::daybook {

[[nodiscard]] std::string to_base64(std::string_view bytes);
/// Nothing when it is not just that: the one text of its bytes, without blanks and line ends.
[[nodiscard]] std::optional<std::string> from_base64(std::string_view text);

}  // namespace strikebed::daybook
