#pragma once
#include <string>
#include <string_view>

namespace strikebed::server {

/// The bytes as one member of a gzip file (RFC 1952), as small as zlib makes it; the same for the same bytes.
[[nodiscard]] std::string gzipped(std::string_view bytes);

/// Whether an Accept-Encoding allows gzip, by its name and not with the weight 0.
[[nodiscard]] bool accepts_gzip(std::string_view accept_encoding);

}  // namespace strikebed::server
