#include "server/target.hpp"

namespace strikebed::server {
namespace {

std::optional<int> digit_of(char c) {
  if (c >= '0' && c <= '9') return c - '0';
  if (c >= 'a' && c <= 'f') return c - 'a' + 10;
  if (c >= 'A' && c <= 'F') return c - 'A' + 10;
  return std::nullopt;
}

bool is_printable_ascii(char c) { return c > ' ' && c < '\x7f'; }

/// What may stand behind a percent sign: a path means the same before and after it is decoded.
bool may_be_encoded(int byte) { return byte >= ' ' && byte != 0x7f && byte != '/' && byte != '\\'; }

}  // namespace

std::optional<std::string> path_of(std::string_view target) {
  if (!target.starts_with('/')) return std::nullopt;
  for (const char c : target) {
    if (!is_printable_ascii(c) || c == '#') return std::nullopt;
  }
  const std::string_view path = target.substr(0, target.find('?'));
  std::string decoded;
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (path[i] != '%') {
      decoded += path[i];
      continue;
    }
    if (i + 2 >= path.size()) return std::nullopt;
    const auto high = digit_of(path[i + 1]);
    const auto low = digit_of(path[i + 2]);
    if (!high || !low || !may_be_encoded(16 * *high + *low)) return std::nullopt;
    decoded += static_cast<char>(16 * *high + *low);
    i += 2;
  }
  return decoded;
}

}  // namespace strikebed::server
