#include <fcntl.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <filesystem>
#include <fstream>
#include <map>
#include <utility>

#include "base/shown_text.hpp"
#include "host/store/database.hpp"

namespace strikebed::host {
namespace {

constexpr int kPatience_ms = 10'000;  // with another program that writes
constexpr std::string_view kHeader("SQLite format 3\0", 16);
constexpr std::size_t kApplicationIdAt = 68;
constexpr std::size_t kHeaderSize = 100;
constexpr std::size_t kLongestReason = 200;

/// What one opens a file of SQLite for.
Error damaged(const std::string& name) {
  return {.problem = "this daybook is damaged",
          .allowed = "a backup of it, or what can still be read of it with a tool for SQLite files",
          .file = name};
}
Error no_daybook(const std::string& name) {
  return {.problem = "this is no daybook", .allowed = "the name of a daybook, or of a new file", .file = name};
}
Error may_not_be_written(const std::string& name) {
  return {.problem = "this daybook may not be written to",
          .allowed = "a file of your own, in a folder of your own",
          .file = name};
}

/// What SQLite's result means to whoever opened the daybook.
Error error_of_code(int code, const std::string& name, std::string_view reason) {
  switch (code & 0xff) {
    case SQLITE_FULL:
      return {.problem = "the disk is full, so that nothing of it was written", .allowed = "more room", .file = name};
    case SQLITE_READONLY:
    case SQLITE_PERM:
      return may_not_be_written(name);
    case SQLITE_CORRUPT:
      return damaged(name);
    case SQLITE_NOTADB:
      return no_daybook(name);
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {.problem =
                  fmt::format("another program has been writing into this daybook for {} seconds", kPatience_ms / 1000),
              .allowed = "to try again when it has ended",
              .file = name};
    case SQLITE_IOERR:
    case SQLITE_CANTOPEN:
      return {.problem = fmt::format("the disk does not do what it is asked to ({})", reason),
              .allowed = "a disk that can be read and written",
              .file = name};
    default:
      return {.problem = fmt::format("the daybook cannot be used: {}", shortened(safe_text(reason), kLongestReason)),
              .file = name};
  }
}

class SqliteRow : public Row {
 public:
  explicit SqliteRow(sqlite3_stmt* statement) : statement_(statement) {}
  [[nodiscard]] std::string_view bytes(int column) const override {
    const void* bytes = sqlite3_column_blob(statement_, column);
    return {static_cast<const char*>(bytes), static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
  }
  [[nodiscard]] std::int64_t number(int column) const override { return sqlite3_column_int64(statement_, column); }

 private:
  sqlite3_stmt* statement_;
};

struct CloseConnection {
  void operator()(sqlite3* connection) const { sqlite3_close(connection); }
};
struct EndStatement {
  void operator()(sqlite3_stmt* statement) const { sqlite3_finalize(statement); }
};
using Statement = std::unique_ptr<sqlite3_stmt, EndStatement>;

class SqliteDatabase : public Database {
 public:
  SqliteDatabase(std::string name, sqlite3* connection) : name_(std::move(name)), connection_(connection) {}

  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] const Dialect& dialect() const override { return kSqliteDialect; }
  [[nodiscard]] bool clashed() const override { return false; }  // writers wait for each other

  Result<std::int64_t> run(std::string_view sql, const Values& values, const SeeRow& see) override {
    auto statement = prepared(sql);
    if (!statement) return statement.error();
    bind(*statement, values);
    const SqliteRow row(*statement);
    std::int64_t found = 0;
    int code = SQLITE_ROW;
    while ((code = sqlite3_step(*statement)) == SQLITE_ROW) {
      ++found;
      if (see) see(row);
    }
    const bool is_query = sqlite3_column_count(*statement) > 0;
    std::optional<Error> failed;
    if (code != SQLITE_DONE) failed = last_error();
    const std::int64_t changed = is_query ? found : sqlite3_changes64(connection_.get());
    sqlite3_reset(*statement);
    sqlite3_clear_bindings(*statement);
    if (failed) return *failed;
    return changed;
  }

  Result<std::vector<std::int64_t>> run_each(std::string_view sql, const std::vector<Values>& all) override {
    std::vector<std::int64_t> changed;
    changed.reserve(all.size());
    for (const Values& values : all) {
      const auto one = run(sql, values, {});
      if (!one) return one.error();
      changed.push_back(*one);
    }
    return changed;
  }

  [[nodiscard]] std::optional<Error> begin(Transaction kind) override {
    return done(run(kind == Transaction::writing ? "BEGIN IMMEDIATE" : "BEGIN", {}, {}));
  }
  [[nodiscard]] std::optional<Error> commit() override { return done(run("COMMIT", {}, {})); }
  void roll_back() override {
    if (sqlite3_get_autocommit(connection_.get()) == 0) static_cast<void>(run("ROLLBACK", {}, {}));
  }

  static std::optional<Error> done(const Result<std::int64_t>& result) {
    return result ? std::nullopt : std::optional(result.error());
  }

 private:
  Result<sqlite3_stmt*> prepared(std::string_view sql) {
    const auto found = statements_.find(sql);
    if (found != statements_.end()) return found->second.get();
    sqlite3_stmt* made = nullptr;
    const int code = sqlite3_prepare_v3(connection_.get(), sql.data(), static_cast<int>(sql.size()),
                                        SQLITE_PREPARE_PERSISTENT, &made, nullptr);
    if (code != SQLITE_OK) return last_error();
    return statements_.emplace(sql, made).first->second.get();
  }

  static void bind(sqlite3_stmt* statement, const Values& values) {
    for (std::size_t i = 0; i < values.size(); ++i) {
      // SQLite takes $1 for a name.
      const int place = sqlite3_bind_parameter_index(statement, fmt::format("${}", i + 1).c_str());
      if (const auto* number = std::get_if<std::int64_t>(&values[i])) {
        sqlite3_bind_int64(statement, place, *number);
      } else if (const auto* text = std::get_if<std::string_view>(&values[i])) {
        sqlite3_bind_text64(statement, place, text->data(), text->size(), SQLITE_STATIC, SQLITE_UTF8);
      } else {
        const std::string_view bytes = std::get<Bytes>(values[i]).bytes;
        sqlite3_bind_blob64(statement, place, bytes.data(), bytes.size(), SQLITE_STATIC);
      }
    }
  }

  [[nodiscard]] Error last_error() const {
    return error_of_code(sqlite3_extended_errcode(connection_.get()), name_, sqlite3_errmsg(connection_.get()));
  }

  std::string name_;
  std::unique_ptr<sqlite3, CloseConnection> connection_;
  std::map<std::string, Statement, std::less<>> statements_;  // gone before the connection
};

/// The first bytes of a file; fewer where it is shorter, none where it cannot be read.
std::string beginning_of(const std::string& path) {
  std::string bytes(kHeaderSize, '\0');
  std::ifstream file(path, std::ios::binary);
  file.read(bytes.data(), static_cast<std::streamsize>(bytes.size()));
  bytes.resize(static_cast<std::size_t>(file.gcount()));
  return bytes;
}

int application_id(std::string_view beginning) {
  int id = 0;
  for (const char c : beginning.substr(kApplicationIdAt, 4)) id = id << 8 | static_cast<unsigned char>(c);
  return id;
}

/// Whether this program may do that with a file.
bool may(const std::string& path, int what) { return ::faccessat(AT_FDCWD, path.c_str(), what, AT_EACCESS) == 0; }

/// What stands in the way of a daybook in a file, found without SQLite, which would say less of it.
std::optional<Error> wrong_place(const std::string& path, Access access) {
  struct stat status{};
  const bool exists = ::stat(path.c_str(), &status) == 0;
  if (!exists && access != Access::create) {
    return Error{.problem = "there is no such daybook", .allowed = "the name of a daybook that is there", .file = path};
  }
  if (!exists) {
    const std::filesystem::path folder = std::filesystem::absolute(path).parent_path();
    if (!std::filesystem::is_directory(folder)) {
      return Error{.problem = "cannot begin this daybook: its folder does not exist",
                   .allowed = "a file name in a folder that is there",
                   .file = path};
    }
    return may(folder, W_OK) ? std::nullopt : std::optional(may_not_be_written(path));
  }
  if (S_ISDIR(status.st_mode)) {
    return Error{.problem = "this is a folder", .allowed = "the name of a daybook", .file = path};
  }
  if (!S_ISREG(status.st_mode)) return no_daybook(path);
  if (!may(path, R_OK)) {
    return Error{.problem = "this daybook may not be read (permission denied)", .file = path};
  }
  if (access != Access::read && !may(path, W_OK)) return may_not_be_written(path);
  // One that was begun, and no more, when the power went; or what was being written can be taken back.
  const std::string beginning = beginning_of(path);
  if (beginning.empty() && access == Access::create) return std::nullopt;
  if (may(path + "-journal", F_OK)) return std::nullopt;
  if (!beginning.starts_with(kHeader)) return no_daybook(path);
  return std::nullopt;
}

/// Every page of the entries and of their index. Attachments are looked at when they are read, by their digest: there
/// may be gigabytes of them.
std::optional<Error> check_entries(Database& database) {
  bool sound = true;
  const auto checked = database.run("PRAGMA integrity_check(daybook_entry)", {},
                                    [&](const Row& row) { sound = sound && row.bytes(0) == "ok"; });
  if (!checked) return checked.error();
  return sound ? std::nullopt : std::optional(damaged(database.name()));
}

/// What holds for as long as the daybook is open.
std::optional<Error> set_up(Database& database) {
  const std::vector<std::string> settings{
      // Another program's triggers and views are not obeyed, broken pages are seen when they are read.
      "PRAGMA trusted_schema = OFF",
      "PRAGMA cell_size_check = ON",
      "PRAGMA recursive_triggers = ON",
      // As FULL; and with a journal that is deleted, its deletion is on the disk too.
      "PRAGMA synchronous = EXTRA",
  };
  for (const std::string& setting : settings) {
    if (const auto set = database.run(setting); !set) return set.error();
  }
  return std::nullopt;
}

/// SQLite does not wait by itself where another program chooses the journal at the same moment.
int choose_journal(sqlite3* connection, Journal journal) {
  constexpr int kStep_ms = 5;
  const char* sql = journal == Journal::beside ? "PRAGMA journal_mode = WAL" : "PRAGMA journal_mode = DELETE";
  for (int waited_ms = 0;; waited_ms += kStep_ms) {
    const int code = sqlite3_exec(connection, sql, nullptr, nullptr, nullptr);
    if ((code & 0xff) != SQLITE_BUSY || waited_ms >= kPatience_ms) return code;
    sqlite3_sleep(kStep_ms);
  }
}

/// Whether it is marked as a daybook and sound, or holds nothing at all.
std::optional<Error> check(Database& database, Access access) {
  // In this order: tables and mark come together, from a program that may be making them now.
  const auto tables = database.run(kSqliteDialect.has_any_table);
  if (!tables) return tables.error();
  std::int64_t id = 0;
  const auto read = database.run("PRAGMA application_id", {}, [&](const Row& row) { id = row.number(0); });
  if (!read) return read.error();
  if (id == kSqliteApplicationId) return check_entries(database);
  const bool is_new = id == 0 && *tables == 0 && access == Access::create;
  return is_new ? std::nullopt : std::optional(no_daybook(database.name()));
}

/// As an address that says that nobody can change the file, so that nothing needs to be written beside it.
std::string unchanging(std::string_view path) {
  std::string address = "file:";
  for (const char c : path) address += fmt::format("%{:02x}", static_cast<unsigned char>(c));
  return address + "?immutable=1";
}

Result<std::unique_ptr<Database>> open_as(const std::string& path, const std::string& address, int flags, Access access,
                                          Journal journal) {
  sqlite3* connection = nullptr;
  const int code = sqlite3_open_v2(address.c_str(), &connection, flags | SQLITE_OPEN_EXRESCODE, nullptr);
  auto database = std::make_unique<SqliteDatabase>(path, connection);
  if (code != SQLITE_OK) return error_of_code(code, path, sqlite3_errstr(code));
  sqlite3_busy_timeout(connection, kPatience_ms);
  std::optional<Error> failed = set_up(*database);
  if (!failed && access != Access::read) {
    const int chosen = choose_journal(connection, journal);
    if (chosen != SQLITE_OK) failed = error_of_code(chosen, path, sqlite3_errmsg(connection));
  }
  if (!failed) failed = check(*database, access);
  if (failed) return *failed;
  return std::unique_ptr<Database>(std::move(database));
}

}  // namespace

Result<std::unique_ptr<Database>> open_sqlite(const std::string& path, Access access, Journal journal) {
  if (auto wrong = wrong_place(path, access)) return *wrong;
  // In full, because SQLite has names of its own that begin with a colon.
  const std::string full = std::filesystem::absolute(path).string();
  if (access == Access::read) {
    // Who reads writes too, beside the file: who reads where. Where nobody may, nothing stands beside it.
    const bool stands_alone = !may(std::filesystem::path(full).parent_path(), W_OK) && !may(full + "-wal", F_OK);
    return stands_alone ? open_as(path, unchanging(full), SQLITE_OPEN_READONLY | SQLITE_OPEN_URI, access, journal)
                        : open_as(path, full, SQLITE_OPEN_READONLY, access, journal);
  }
  const int create = access == Access::create ? SQLITE_OPEN_CREATE : 0;
  return open_as(path, full, SQLITE_OPEN_READWRITE | create, access, journal);
}

bool is_sqlite_daybook(const std::string& path) {
  const std::string beginning = beginning_of(path);
  return beginning.size() == kHeaderSize && beginning.starts_with(kHeader) &&
         application_id(beginning) == kSqliteApplicationId;
}

}  // namespace strikebed::host
