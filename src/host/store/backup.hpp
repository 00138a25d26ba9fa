#pragma once
// A daybook as it is at one moment, as a file that is a daybook of its own.
#include <optional>
#include <string>

#include "base/result.hpp"
#include "host/store/database.hpp"

namespace strikebed::host {

/// See DaybookStore::backup.
[[nodiscard]] std::optional<Error> back_up(Database& database, const std::string& path);

}  // namespace strikebed::host
