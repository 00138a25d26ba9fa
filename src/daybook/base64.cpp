#include "daybook/base64.hpp"

#include <array>
#include <cstdint>

namespace strikebed::daybook {
namespace {

constexpr std::string_view kDigits = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
constexpr int kNone = -1;
constexpr std::array<int, 256> kValues = [] {
  std::array<int, 256> values{};
  values.fill(kNone);
  for (std::size_t i = 0; i < kDigits.size(); ++i) values[static_cast<unsigned char>(kDigits[i])] = static_cast<int>(i);
  return values;
}();

/// Up to three bytes as one number, the first the highest.
std::uint32_t group_of(std::string_view bytes) {
  std::uint32_t group = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    group = group << 8 | (i < bytes.size() ? static_cast<unsigned char>(bytes[i]) : 0U);
  }
  return group;
}

}  // namespace

std::string to_base64(std::string_view bytes) {
  std::string text;
  text.reserve((bytes.size() + 2) / 3 * 4);
  for (std::size_t at = 0; at < bytes.size(); at += 3) {
    const std::string_view some = bytes.substr(at, 3);
    const std::uint32_t group = group_of(some);
    for (std::size_t i = 0; i < 4; ++i) text += i <= some.size() ? kDigits[group >> (18 - 6 * i) & 63] : '=';
  }
  return text;
}

std::optional<std::string> from_base64(std::string_view text) {
  if (text.size() % 4 != 0) return std::nullopt;
  std::string bytes;
  bytes.reserve(text.size() / 4 * 3);
  for (std::size_t at = 0; at < text.size(); at += 4) {
    std::uint32_t group = 0;
    std::size_t digits = 4;
    if (at + 4 == text.size()) digits -= text.ends_with("==") ? 2U : text.ends_with('=') ? 1U : 0U;
    for (std::size_t i = 0; i < 4; ++i) {
      const int value = i < digits ? kValues[static_cast<unsigned char>(text[at + i])] : 0;
      if (value == kNone) return std::nullopt;
      group = group << 6 | static_cast<std::uint32_t>(value);
    }
    if ((group & (digits == 2 ? 0xffffU : digits == 3 ? 0xffU : 0U)) != 0) return std::nullopt;
    for (std::size_t i = 0; i + 1 < digits; ++i) bytes += static_cast<char>(group >> (16 - 8 * i));
  }
  return bytes;
}

}  // namespace strikebed::daybook
