#include "daybook/entry_id.hpp"

#include <fmt/format.h>

namespace strikebed::daybook {
namespace {

constexpr std::size_t kDigitsOfHalf = 16;

std::optional<std::uint64_t> parse_half(std::string_view digits) {
  std::uint64_t half = 0;
  for (const char c : digits) {
    const bool is_digit = c >= '0' && c <= '9';
    if (!is_digit && !(c >= 'a' && c <= 'f')) return std::nullopt;
    half = half << 4 | static_cast<std::uint64_t>(is_digit ? c - '0' : c - 'a' + 10);
  }
  return half;
}

}  // namespace

std::string to_text(const EntryId& id) { return fmt::format("{:016x}{:016x}", id.high, id.low); }

std::optional<EntryId> parse_entry_id(std::string_view text) {
  if (text.size() != 2 * kDigitsOfHalf) return std::nullopt;
  const auto high = parse_half(text.substr(0, kDigitsOfHalf));
  const auto low = parse_half(text.substr(kDigitsOfHalf));
  if (!high || !low) return std::nullopt;
  return EntryId{*high, *low};
}

}  // namespace strikebed::daybook
