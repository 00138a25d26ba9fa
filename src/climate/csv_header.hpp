#pragma once
// The line of a CSV file that names its columns: where it stands, and which column holds what.
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "climate/columns.hpp"

namespace strikebed::climate {

/// A header line that was understood (or, while it is looked for, how far it was).
struct CsvHeader {
  int line = 0;
  const char* line_start = nullptr;
  char separator = ',';
  std::size_t width = 0;
  std::vector<std::string_view> names;
  std::array<int, kRoles> column_of{};  ///< -1: none
  std::array<HeaderCell, kRoles> cells{};
  int recognised = 0;
  bool dated_in_parts = false;  ///< the date stands in several columns

  [[nodiscard]] bool has(Role role) const { return column_of[static_cast<std::size_t>(role)] >= 0; }
  [[nodiscard]] int column(Role role) const { return column_of[static_cast<std::size_t>(role)]; }
  /// A name as it is shown in messages: short and printable.
  [[nodiscard]] std::string name(Role role) const;
  [[nodiscard]] bool dated() const {
    return has(Role::date) || has(Role::time) || has(Role::day) || (has(Role::year) && has(Role::day_of_year));
  }
  [[nodiscard]] bool warm() const { return has(Role::tmin) || has(Role::tmax) || has(Role::temperature); }
};

/// A header and the rows below it. Both point into the text.
struct CsvTable {
  CsvHeader header;
  std::string_view rows;
  int first_row_line = 0;
};

/// The first of the first 30 lines that names a date and a temperature, by the user's choices and the table of names.
/// A row of units right below it is read as such, for columns whose name has none.
/// Errors: no such line (named is the one that was most likely meant); two columns for one thing, a chosen column that
/// is not there, a temperature in an unknown unit.
[[nodiscard]] Result<CsvTable> find_csv_header(std::string_view text, const std::string& file,
                                               const std::vector<ColumnChoice>& choices);

}  // namespace strikebed::climate
