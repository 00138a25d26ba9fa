// The tables of a daybook only grow: what each version of them made (tests/host/schema/<database>-<version>.txt, kept
// for ever) stands in a daybook of today as it stood then. A new version adds a file; none is ever changed.
#include "host/store/schema.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <set>
#include <sstream>
#include <string>

#include "host/files.hpp"
#include "tests/host/two_databases.hpp"

namespace strikebed::host {
namespace {

/// Each table, column, key and trigger in a line.
std::set<std::string> lines_of(Database& database, std::string_view query) {
  std::set<std::string> lines;
  const auto ran = database.run(query, {}, [&](const Row& row) { lines.emplace(row.bytes(0)); });
  EXPECT_TRUE(ran) << message_of(ran);
  return lines;
}

constexpr std::string_view kSqlite = "SELECT sql FROM sqlite_schema WHERE sql IS NOT NULL";
constexpr std::string_view kPostgres =
    "SELECT CAST(concat_ws(' ', 'column', table_name, column_name, data_type, is_nullable) AS TEXT) "
    "FROM information_schema.columns WHERE table_schema = current_schema() "
    "UNION SELECT CAST(concat_ws(' ', 'constraint', conrelid::regclass, pg_get_constraintdef(oid)) AS TEXT) "
    "FROM pg_constraint WHERE connamespace = current_schema()::regnamespace "
    "UNION SELECT CAST(replace(pg_get_triggerdef(t.oid), current_schema() || '.', '') AS TEXT) "
    "FROM pg_trigger t JOIN pg_class c ON c.oid = tgrelid WHERE relnamespace = current_schema()::regnamespace";

void expect_grown(Kind kind, std::string_view name, std::string_view query) {
  Places places(kind);
  const std::string where = places.fresh("notes");
  opened(where);
  const std::set<std::string> today = lines_of(*Places::open(where), query);
  std::set<std::string> kept;
  for (int version = 1; version <= kSchemaVersion; ++version) {
    const auto text = read_file(fmt::format("{}/tests/host/schema/{}-{}.txt", SOURCE_DIR, name, version));
    ASSERT_TRUE(text) << message_of(text);
    std::istringstream lines(*text);
    for (std::string line; std::getline(lines, line);) kept.insert(line);
  }
  EXPECT_EQ(today, kept);
}

TEST(Schema, OfSqliteOnlyGrows) { expect_grown(Kind::sqlite, "sqlite", kSqlite); }
TEST(Schema, OfPostgresOnlyGrows) { expect_grown(Kind::postgres, "postgres", kPostgres); }

TEST(Schema, IsMarkedInTheFile) {
  Places places(Kind::sqlite);
  const std::string where = places.fresh("notes");
  opened(where);
  EXPECT_TRUE(is_sqlite_daybook(where));
  EXPECT_EQ(read_file(where)->substr(68, 4), "StBd");
}

}  // namespace
}  // namespace strikebed::host
