#pragma once
// SHA-256 as in FIPS 180-4. Ours, because no package of this system has one that is pure and also compiles for the
// browser; a page has it in its own library, so that both ends can make it.
#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::daybook {

using Digest = std::array<std::uint8_t, 32>;

[[nodiscard]] Digest sha256(std::string_view bytes);
/// 64 digits of base 16, the letters small.
[[nodiscard]] std::string to_text(const Digest& digest);
/// Nothing when it is not just that.
[[nodiscard]] std::optional<Digest> parse_digest(std::string_view text);

}  // namespace strikebed::daybook
