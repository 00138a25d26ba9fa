#include "host/store/backup.hpp"

#include <sys/stat.h>
#include <unistd.h>

#include <memory>

#include "host/files.hpp"
#include "host/store/schema.hpp"

namespace strikebed::host {
namespace {

/// A table is copied row by row, whatever stands in it: an entry that this program cannot read is one of the backup
/// too.
struct Copied {
  std::string_view read;
  std::string_view write;
  bool second_is_text;
};
constexpr Copied kTables[] = {
    {"SELECT id, json FROM daybook_entry ORDER BY id", "INSERT INTO daybook_entry (id, json) VALUES ($1, $2)", true},
    {"SELECT sha256, bytes FROM daybook_attachment ORDER BY sha256",
     "INSERT INTO daybook_attachment (sha256, bytes) VALUES ($1, $2)", false},
};

std::optional<Error> copy(Database& from, Database& to, const Copied& table) {
  std::optional<Error> wrong;
  const auto ran = from.run(table.read, {}, [&](const Row& row) {
    if (wrong) return;
    const Value second = table.second_is_text ? Value(row.bytes(1)) : Value(Bytes{row.bytes(1)});
    if (const auto written = to.run(table.write, {Bytes{row.bytes(0)}, second}); !written) wrong = written.error();
  });
  return ran ? wrong : std::optional(ran.error());
}

std::optional<Error> copy_all(Database& from, Database& to) {
  return in_transaction(from, Transaction::reading, [&] {
    return in_transaction(to, Transaction::writing, [&]() -> std::optional<Error> {
      for (const Copied& table : kTables) {
        if (auto error = copy(from, to, table)) return error;
      }
      return std::nullopt;
    });
  });
}

std::optional<Error> fill(Database& from, const std::string& path) {
  const auto to = open_sqlite(path, Access::create, Journal::none);
  if (!to) return to.error();
  if (auto error = bring_to_this_version(**to, Access::create)) return error;
  return copy_all(from, **to);
}

bool is_same_file(const std::string& one, const std::string& other) {
  struct stat a{};
  struct stat b{};
  return ::stat(one.c_str(), &a) == 0 && ::stat(other.c_str(), &b) == 0 && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
}

/// A file that would be lost, or would be taken from under the program that has it open.
std::optional<Error> wrong_place(const Database& database, const std::string& path) {
  struct stat status{};
  if (::stat(path.c_str(), &status) != 0 || S_ISDIR(status.st_mode)) return std::nullopt;  // FileInTheMaking says it
  Error error{.allowed = "a new name, or that of an earlier backup", .file = path};
  if (is_same_file(database.name(), path)) {
    error.problem = "this is the daybook itself";
  } else if (!is_sqlite_daybook(path)) {
    error.problem = "there is a file of this name already that is no daybook; it would be lost";
  } else if (::access((path + "-wal").c_str(), F_OK) == 0) {
    error.problem = "there is a daybook of this name that is in use; it would be lost";
  } else {
    return std::nullopt;
  }
  return error;
}

}  // namespace

std::optional<Error> back_up(Database& database, const std::string& path) {
  if (auto wrong = wrong_place(database, path)) return wrong;
  auto file = FileInTheMaking::begin(path);
  if (!file) return file.error();
  auto error = fill(database, file->temporary());
  if (!error) return file->finish();
  if (error->file == file->temporary()) error->file = path;
  ::unlink((file->temporary() + "-journal").c_str());
  return error;
}

}  // namespace strikebed::host
