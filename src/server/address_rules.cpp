#include "server/address_rules.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.hpp"

namespace strikebed::server {
namespace {

constexpr std::uint16_t kPortOfHttp = 80;  // which browsers leave out

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// "tray.local:8443" without its port.
std::string_view without_port(std::string_view host) {
  const std::size_t colon = host.rfind(':');
  if (colon == std::string_view::npos) return host;
  const std::string_view port = host.substr(colon + 1);
  return !port.empty() && std::ranges::all_of(port, is_digit) ? host.substr(0, colon) : host;
}

}  // namespace

bool is_own_host(std::string_view host, std::uint16_t port, const std::vector<std::string>& names) {
  const std::string given = lower(host);
  for (const std::string_view own : {"localhost", "127.0.0.1", "[::1]"}) {
    if (given == fmt::format("{}:{}", own, port) || (port == kPortOfHttp && given == own)) return true;
  }
  return std::ranges::any_of(
      names, [&](const std::string& name) { return given == lower(name) || without_port(given) == lower(name); });
}

bool is_same_origin(std::string_view origin, std::string_view host) {
  const std::string from = lower(origin);
  const std::string here = lower(host);
  return from == "http://" + here || from == "https://" + here;
}

}  // namespace strikebed::server
