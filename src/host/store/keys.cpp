#include "host/store/keys.hpp"

#include <algorithm>
#include <cstdint>

namespace strikebed::host {
namespace {

constexpr std::size_t kHalf = 8;  // bytes

std::uint64_t half_of(std::string_view bytes) {
  std::uint64_t half = 0;
  for (const char c : bytes) half = half << 8 | static_cast<unsigned char>(c);
  return half;
}

}  // namespace

std::string key_of(const daybook::EntryId& id) {
  std::string key(2 * kHalf, '\0');
  for (std::size_t i = 0; i < kHalf; ++i) {
    const auto shift = 8 * (kHalf - 1 - i);
    key[i] = static_cast<char>(id.high >> shift);
    key[kHalf + i] = static_cast<char>(id.low >> shift);
  }
  return key;
}

std::optional<daybook::EntryId> id_of(std::string_view key) {
  if (key.size() != 2 * kHalf) return std::nullopt;
  return daybook::EntryId{half_of(key.substr(0, kHalf)), half_of(key.substr(kHalf))};
}

std::string key_of(const daybook::Digest& digest) { return {digest.begin(), digest.end()}; }

std::optional<daybook::Digest> digest_of(std::string_view key) {
  daybook::Digest digest{};
  if (key.size() != digest.size()) return std::nullopt;
  std::ranges::transform(key, digest.begin(), [](char c) { return static_cast<std::uint8_t>(c); });
  return digest;
}

}  // namespace strikebed::host
