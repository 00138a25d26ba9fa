#pragma once
// A daybook out of its store and into another: as one JSON document with all attachments, or its entries as CSV.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "host/store/daybook_store.hpp"

namespace strikebed::host {

/// Takes the next part of a text; an error ends the making of it.
using TakePart = std::function<std::optional<Error>(std::string_view part)>;

/// All entries and attachments, in the order of their ids and digests: equal daybooks give equal bytes.
[[nodiscard]] std::optional<Error> export_json(DaybookStore& store, const TakePart& take);
/// The entries alone, in the same order.
[[nodiscard]] Result<std::string> export_csv(DaybookStore& store);

/// Adds what is in a file that either of them made: all of it or nothing. Errors: of the file, with the line of each
/// entry that cannot be read; of the store.
[[nodiscard]] Result<Added> import_file(DaybookStore& store, const std::string& path);

}  // namespace strikebed::host
