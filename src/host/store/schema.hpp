#pragma once
// The tables of a daybook, and how those of an earlier version become those of this one. Migrations only add: what
// once stood in a daybook is read for ever. tests/host/schema holds what each version made.
#include <optional>

#include "base/result.hpp"
#include "host/store/database.hpp"

namespace strikebed::host {

inline constexpr int kSchemaVersion = 1;

/// Makes the tables that are missing, all or none of them. Errors: there are none, and they are not to be made; a later
/// version of the program made them.
[[nodiscard]] std::optional<Error> bring_to_this_version(Database& database, Access access);

}  // namespace strikebed::host
