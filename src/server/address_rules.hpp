#pragma once
// Which names this server goes by, so that no other site can have a browser ask here in its name.
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace strikebed::server {

/// Whether the Host of a request is this server's: localhost, 127.0.0.1 or [::1] with its port, or one of `names`
/// with any port or none. Letters of any case.
[[nodiscard]] bool is_own_host(std::string_view host, std::uint16_t port, const std::vector<std::string>& names);

/// Whether the Origin of a request is the page of this Host, over http or https.
[[nodiscard]] bool is_same_origin(std::string_view origin, std::string_view host);

}  // namespace strikebed::server
