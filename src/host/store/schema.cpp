#include "host/store/schema.hpp"

#include <fmt/format.h>

#include <string>
#include <vector>

namespace strikebed::host {
namespace {

constexpr std::string_view kVersionTable = "daybook_migration";

struct Migration {
  int version;
  std::string_view what;
  std::vector<std::string> (*statements)(const Dialect& dialect);
  std::vector<std::string> (*guards)(const Dialect& dialect);  ///< triggers
};

void append(std::vector<std::string>& all, std::vector<std::string> more) {
  for (std::string& one : more) all.push_back(std::move(one));
}

/// An entry is kept as the line of JSON that it is everywhere else; what it tells is folded from there.
std::vector<std::string> first_tables(const Dialect& dialect) {
  return {
      fmt::format(
          "CREATE TABLE daybook_entry (id {} PRIMARY KEY NOT NULL CHECK (length(id) = 16), json TEXT NOT NULL){}",
          dialect.bytes, dialect.table_end),
      fmt::format("CREATE TABLE daybook_attachment (sha256 {0} PRIMARY KEY NOT NULL CHECK (length(sha256) = 32), "
                  "bytes {0} NOT NULL){1}",
                  dialect.bytes, dialect.table_end),
  };
}
std::vector<std::string> first_guards(const Dialect& dialect) {
  std::vector<std::string> all = dialect.append_only("daybook_entry", "id");
  append(all, dialect.append_only("daybook_attachment", "sha256"));
  append(all, dialect.append_only(kVersionTable, "version"));
  return all;
}

const std::vector<Migration>& migrations() {
  static const std::vector<Migration> all{{1, "entries and attachments", first_tables, first_guards}};
  return all;
}

std::optional<Error> failed(const Result<std::int64_t>& result) {
  return result ? std::nullopt : std::optional(result.error());
}

std::optional<Error> run_all(Database& database, const std::vector<std::string>& statements) {
  for (const std::string& statement : statements) {
    if (auto error = failed(database.run(statement))) return error;
  }
  return std::nullopt;
}

std::optional<Error> guard(Database& database, const std::vector<std::string>& guards) {
  if (!database.dialect().triggers_may_lack) return run_all(database, guards);
  if (auto error = failed(database.run("SAVEPOINT guards"))) return error;
  if (!run_all(database, guards)) return failed(database.run("RELEASE SAVEPOINT guards"));
  return failed(database.run("ROLLBACK TO SAVEPOINT guards"));
}

/// 0 where there are no tables.
Result<std::int64_t> version_of(Database& database) {
  const auto tables = database.run(database.dialect().has_table, {kVersionTable});
  if (!tables) return tables.error();
  std::int64_t version = 0;
  if (*tables == 0) return version;
  const auto read = database.run("SELECT version FROM daybook_migration ORDER BY version", {},
                                 [&](const Row& row) { version = row.number(0); });
  if (!read) return read.error();
  return version;
}

std::optional<Error> migrate(Database& database) {
  const auto version = version_of(database);  // another program may have been quicker
  if (!version) return version.error();
  if (*version == 0) {
    const Dialect& dialect = database.dialect();
    std::vector<std::string> begin{
        fmt::format("CREATE TABLE {} (version INTEGER PRIMARY KEY NOT NULL, what TEXT NOT NULL){}", kVersionTable,
                    dialect.table_end)};
    if (!dialect.mark.empty()) begin.emplace_back(dialect.mark);
    if (auto error = run_all(database, begin)) return error;
  }
  for (const Migration& one : migrations()) {
    if (one.version <= *version) continue;
    if (auto error = run_all(database, one.statements(database.dialect()))) return error;
    if (auto error = guard(database, one.guards(database.dialect()))) return error;
    if (auto error = failed(database.run("INSERT INTO daybook_migration (version, what) VALUES ($1, $2)",
                                         {std::int64_t{one.version}, one.what}))) {
      return error;
    }
  }
  return std::nullopt;
}

}  // namespace

std::optional<Error> bring_to_this_version(Database& database, Access access) {
  const auto version = version_of(database);
  if (!version) return version.error();
  if (*version > kSchemaVersion) {
    return Error{.problem = fmt::format("a later version of this program wrote this daybook (version {} of its tables)",
                                        *version),
                 .allowed = fmt::format("version {} or earlier", kSchemaVersion),
                 .file = database.name()};
  }
  if (*version == 0 && access != Access::create) {
    return Error{.problem = "there is no daybook in it yet",
                 .allowed = "the name of a daybook that is there",
                 .file = database.name()};
  }
  if (*version == kSchemaVersion || access == Access::read) return std::nullopt;
  const auto work = [&] { return migrate(database); };
  auto error = in_transaction(database, Transaction::writing, work);
  if (!error) return error;
  // Where two make the tables at once, one of them is refused, and finds them then.
  const auto now = version_of(database);
  return now && *now == kSchemaVersion ? std::nullopt : error;
}

}  // namespace strikebed::host
