#include "host/store/dialect.hpp"

#include <fmt/format.h>

namespace strikebed::host {
namespace {

/// INSERT OR REPLACE deletes without asking the trigger on deletion: it finds nothing to replace.
std::vector<std::string> append_only_sqlite(std::string_view table, std::string_view key) {
  constexpr std::string_view kRefuse = "BEGIN SELECT RAISE(ABORT, 'a daybook is only added to'); END";
  return {
      fmt::format("CREATE TRIGGER {0}_not_updated BEFORE UPDATE ON {0} {1}", table, kRefuse),
      fmt::format("CREATE TRIGGER {0}_not_deleted BEFORE DELETE ON {0} {1}", table, kRefuse),
      fmt::format("CREATE TRIGGER {0}_not_replaced BEFORE INSERT ON {0} "
                  "WHEN EXISTS (SELECT 1 FROM {0} AS here WHERE here.{1} = NEW.{1}) "
                  "BEGIN SELECT RAISE(IGNORE); END",
                  table, key),
      fmt::format("CREATE TRIGGER {0}_not_displaced BEFORE INSERT ON {0} "
                  "WHEN EXISTS (SELECT 1 FROM {0} AS here WHERE here.rowid = NEW.rowid AND here.{1} <> NEW.{1}) {2}",
                  table, key, kRefuse),
  };
}

std::vector<std::string> append_only_postgres(std::string_view table, std::string_view) {
  return {
      "CREATE OR REPLACE FUNCTION daybook_refuse() RETURNS trigger LANGUAGE plpgsql AS "
      "$$ BEGIN RAISE EXCEPTION 'a daybook is only added to'; END $$",
      fmt::format("CREATE TRIGGER {0}_not_changed BEFORE UPDATE OR DELETE ON {0} "
                  "FOR EACH ROW EXECUTE FUNCTION daybook_refuse()",
                  table),
      fmt::format("CREATE TRIGGER {0}_not_emptied BEFORE TRUNCATE ON {0} "
                  "FOR EACH STATEMENT EXECUTE FUNCTION daybook_refuse()",
                  table),
  };
}

}  // namespace

const Dialect kSqliteDialect{
    .bytes = "BLOB",
    .table_end = " STRICT",
    .has_table = "SELECT name FROM sqlite_schema WHERE type = 'table' AND name = $1",
    .has_any_table = "SELECT name FROM sqlite_schema",
    .mark = "PRAGMA application_id = 1400128100",
    .triggers_may_lack = false,
    .append_only = append_only_sqlite,
};
const Dialect kPostgresDialect{
    .bytes = "BYTEA",
    .table_end = "",
    .has_table =
        "SELECT table_name FROM information_schema.tables "
        "WHERE table_schema = current_schema() AND table_name = $1",
    .has_any_table = "",
    .mark = "",
    .triggers_may_lack = true,
    .append_only = append_only_postgres,
};
static_assert(kSqliteApplicationId == 1400128100);

}  // namespace strikebed::host
