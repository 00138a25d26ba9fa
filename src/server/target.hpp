#pragma once
// The target of a request as a path.
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::server {

/// "/pictures/a%20b?size=1" is "/pictures/a b". Nothing where it does not begin with a slash, holds anything but
/// printable ASCII, has a percent sign without two digits of base 16, or hides a slash, a backslash or a control
/// character behind one. What dots stand for is not looked at: paths are only ever compared.
[[nodiscard]] std::optional<std::string> path_of(std::string_view target);

}  // namespace strikebed::server
