#include "base/shown_text.hpp"

#include <algorithm>

namespace strikebed {
namespace {

bool goes_on(char c) { return (static_cast<unsigned char>(c) & 0xC0) == 0x80; }

/// Bytes of the UTF-8 character at the start of `text`; 0 when it is none.
std::size_t utf8_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const std::size_t length = byte(0) < 0x80 ? 1 : byte(0) >= 0xF0 ? 4 : byte(0) >= 0xE0 ? 3 : byte(0) >= 0xC2 ? 2 : 0;
  if (length == 0 || length > text.size() || byte(0) > 0xF4) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!goes_on(text[i])) return 0;
  }
  // overlong forms, surrogates and what lies past the last code point
  if (byte(0) == 0xE0 && byte(1) < 0xA0) return 0;
  if (byte(0) == 0xED && byte(1) > 0x9F) return 0;
  if (byte(0) == 0xF0 && byte(1) < 0x90) return 0;
  if (byte(0) == 0xF4 && byte(1) > 0x8F) return 0;
  return length;
}

char32_t code_point(std::string_view character) {
  constexpr unsigned kLeadBits[] = {0x7F, 0x1F, 0x0F, 0x07};
  char32_t code = static_cast<unsigned char>(character[0]) & kLeadBits[character.size() - 1];
  for (const char c : character.substr(1)) code = code << 6 | (static_cast<unsigned char>(c) & 0x3F);
  return code;
}

bool is_obeyed(char32_t code) {
  if (code == U'\n' || code == U'\t') return false;
  return code < 0x20 || (code >= 0x7F && code <= 0x9F) || code == 0x061C || code == 0x200E || code == 0x200F ||
         (code >= 0x2028 && code <= 0x202E) || (code >= 0x2066 && code <= 0x2069);
}

}  // namespace

std::string without_controls(std::string_view text,
                             const std::function<std::string(std::optional<char32_t>)>& instead) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const std::size_t length = utf8_length(text);
    if (length == 0) {
      out += instead(std::nullopt);
      text.remove_prefix(1);
      continue;
    }
    const char32_t code = code_point(text.substr(0, length));
    if (is_obeyed(code)) {
      out += instead(code);
    } else {
      out += text.substr(0, length);
    }
    text.remove_prefix(length);
  }
  return out;
}

std::string safe_text(std::string_view text) {
  return without_controls(text, [](std::optional<char32_t>) { return std::string(1, '?'); });
}

std::string quoted(std::string_view text, std::size_t most) {
  std::size_t end = 0;
  for (std::size_t characters = 0; end < text.size() && characters < most; ++characters) {
    end += std::max<std::size_t>(utf8_length(text.substr(end)), 1);
  }
  std::string shown = safe_text(text.substr(0, end));
  std::replace_if(shown.begin(), shown.end(), [](char c) { return c == '\n' || c == '\t'; }, '?');
  return '"' + shown + (end < text.size() ? "...\"" : "\"");
}

std::string shortened(std::string_view text, std::size_t most) {
  if (text.size() <= most) return std::string(text);
  std::size_t head = most - most / 3;
  std::size_t tail = text.size() - most / 3;
  while (head > 0 && goes_on(text[head])) --head;
  while (tail < text.size() && goes_on(text[tail])) ++tail;
  return std::string(text.substr(0, head)) + "..." + std::string(text.substr(tail));
}

}  // namespace strikebed
