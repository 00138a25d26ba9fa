#pragma once
// What differs between the two databases in the making of tables; everything else has one text.
#include <string>
#include <string_view>
#include <vector>

namespace strikebed::host {

/// Statements that refuse every change of the rows of a table.
using MakeAppendOnly = std::vector<std::string> (*)(std::string_view table, std::string_view key);

struct Dialect {
  std::string_view bytes;      ///< the type of a column of bytes
  std::string_view table_end;  ///< behind the columns of a table
  std::string_view has_table;  ///< a query that finds a row where there is the table $1
  /// The same for any table, where the database is to hold nothing else; may be empty.
  std::string_view has_any_table;
  std::string_view mark;  ///< marks a new database as a daybook, beside its tables; may be empty
  /// Where a database has no triggers, the tables are made without.
  bool triggers_may_lack;
  MakeAppendOnly append_only;
};

extern const Dialect kSqliteDialect;
extern const Dialect kPostgresDialect;

/// At offset 68 of an SQLite file, for whoever wants to know what it is: "StBd".
inline constexpr int kSqliteApplicationId = 0x53744264;

}  // namespace strikebed::host
