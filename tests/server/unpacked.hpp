#pragma once
#include <string>
#include <string_view>

namespace strikebed::server {

/// What a gzip file holds; "broken" where it is none.
[[nodiscard]] std::string unpacked(std::string_view gzip);

}  // namespace strikebed::server
