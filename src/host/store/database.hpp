#pragma once
// A thin face for two databases: SQL with $1, $2 ... in, rows out. All statements but those that make the tables have
// one text for both. Used by one thread at a time.
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "base/result.hpp"
#include "host/store/access.hpp"
#include "host/store/dialect.hpp"

namespace strikebed::host {

/// Bytes that are no text; not copied.
struct Bytes {
  std::string_view bytes;
};
/// What stands for one $; texts are not copied.
using Value = std::variant<std::int64_t, std::string_view, Bytes>;
using Values = std::vector<Value>;

/// One row of an answer; valid until the next one.
class Row {
 public:
  virtual ~Row() = default;
  [[nodiscard]] virtual std::string_view bytes(int column) const = 0;  ///< of a text or of bytes; columns from 0
  [[nodiscard]] virtual std::int64_t number(int column) const = 0;
};
using SeeRow = std::function<void(const Row&)>;

enum class Transaction {
  reading,  ///< sees the database as it is at one moment
  writing,
};

/// Every function that fails says why, with the name of the database; where a transaction is open, it is to be rolled
/// back.
class Database {
 public:
  virtual ~Database() = default;

  [[nodiscard]] virtual const std::string& name() const = 0;  ///< for messages; holds nothing that is secret
  [[nodiscard]] virtual const Dialect& dialect() const = 0;

  /// Runs a statement. Returns how many rows it changed or, of a query, found.
  virtual Result<std::int64_t> run(std::string_view sql, const Values& values = {}, const SeeRow& see = {}) = 0;
  /// Runs one statement for each of many, without waiting for one after the other. Returns the same of each.
  virtual Result<std::vector<std::int64_t>> run_each(std::string_view sql, const std::vector<Values>& all) = 0;

  [[nodiscard]] virtual std::optional<Error> begin(Transaction kind) = 0;
  [[nodiscard]] virtual std::optional<Error> commit() = 0;
  virtual void roll_back() = 0;
  /// Whether the transaction failed only because of another that ran beside it: it may go through if it is run again.
  [[nodiscard]] virtual bool clashed() const = 0;
};

/// Runs all of `work` or nothing of it; again where it clashed. `work` says what went wrong.
[[nodiscard]] std::optional<Error> in_transaction(Database& database, Transaction kind,
                                                  const std::function<std::optional<Error>()>& work);

/// How a file is kept while it is open.
enum class Journal {
  beside,  ///< what is new stands in a second file until later, so that readers and writers do not wait for each other
  none,    ///< in one file, for one program; and one file is what it leaves
};
/// Errors: see DaybookStore::open. Whether it is a daybook is looked at, its version is not.
[[nodiscard]] Result<std::unique_ptr<Database>> open_sqlite(const std::string& path, Access access,
                                                            Journal journal = Journal::beside);
/// Whether a file of this name holds a daybook, by its beginning.
[[nodiscard]] bool is_sqlite_daybook(const std::string& path);

/// Whether that is the form of a connection string.
[[nodiscard]] bool is_postgres_address(std::string_view where);
/// Errors: it cannot be read, nobody answers (within five seconds, unless it says otherwise), it lets nobody in.
[[nodiscard]] Result<std::unique_ptr<Database>> open_postgres(const std::string& address, Access access);

}  // namespace strikebed::host
