#pragma once
// Entries as CSV (RFC 4180), for spreadsheets: one row an entry, one column for each key of the format, whatever kinds
// have it. Exact both ways. Lists stand as JSON in one cell; an entry of a later version stands whole in the last
// column.
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/entry.hpp"

namespace strikebed::daybook {

/// The names of the columns, in order.
[[nodiscard]] std::vector<std::string_view> csv_columns();

/// With the names first; lines end in a line feed.
[[nodiscard]] std::string entries_csv(const std::vector<Entry>& entries);

/// Columns in any order, and only those that are of use. Errors: no column of ids, a column that the format does not
/// have, a quotation mark that does not close, a row of another length, an entry that cannot be read; each with its
/// line, all of them at once.
[[nodiscard]] Result<std::vector<Entry>> read_entries_csv(std::string_view csv);

}  // namespace strikebed::daybook
