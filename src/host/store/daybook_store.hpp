#pragma once
// Where a daybook's entries are kept: a file of its own (SQLite) or a PostgreSQL database, with the same tables and the
// same answers. docs/store.md. A store is used by one thread at a time; any number of programs may have the daybook
// open.
//
// Errors name the daybook as the user did (of a connection string only where it leads, never who asks or with which
// password) and are one sentence each. What failed left the daybook as it was.
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "daybook/attachment.hpp"
#include "daybook/entry.hpp"
#include "daybook/exchange.hpp"
#include "host/store/access.hpp"

namespace strikebed::host {

class Database;

/// How many were new.
struct Added {
  std::size_t entries = 0;
  std::size_t attachments = 0;
  bool operator==(const Added&) const = default;
};

class DaybookStore {
 public:
  /// Opens the daybook in a file, or in a database ("postgresql://..."), and brings it to this version.
  /// Errors: there is none (unless it is to be created), the folder is missing, it may not be read or written, it is no
  /// daybook, a later version of the program made it, it is damaged (every opening looks), the database does not
  /// answer.
  [[nodiscard]] static Result<DaybookStore> open(const std::string& where, Access access);

  DaybookStore(DaybookStore&&) noexcept;
  DaybookStore& operator=(DaybookStore&&) noexcept;
  ~DaybookStore();

  /// As the user named it; of a connection string only host, port and database.
  [[nodiscard]] const std::string& name() const;

  /// Adds those that are not there yet, all of them or none, and returns once they are on the disk.
  /// Errors: an entry that could not be read again (error_of); another entry is there under its id; an attachment that
  /// is empty, too large or not what its digest says; no room on the disk; the daybook was opened to be read.
  [[nodiscard]] Result<Added> add(const std::vector<daybook::Entry>& entries,
                                  const std::vector<daybook::Attachment>& attachments = {});

  /// Calls with each entry, in no order. Errors: one cannot be read.
  [[nodiscard]] std::optional<Error> each_entry(const std::function<void(daybook::Entry)>& visit);
  [[nodiscard]] Result<std::vector<daybook::Entry>> read_all();  ///< in no order
  [[nodiscard]] Result<std::optional<daybook::Entry>> find(const daybook::EntryId& id);
  [[nodiscard]] Result<std::vector<daybook::EntryId>> ids();  ///< of all, in order
  [[nodiscard]] Result<std::size_t> number_of_entries();

  /// The next message of an exchange (docs/exchange.md): takes the entries of this one in, then answers.
  [[nodiscard]] Result<daybook::Message> answer(const daybook::Message& message);

  [[nodiscard]] Result<std::vector<daybook::Digest>> attachments();          ///< that are here, in order
  [[nodiscard]] Result<std::vector<daybook::Digest>> missing_attachments();  ///< that entries name, in order
  [[nodiscard]] Result<std::optional<std::string>> attachment(const daybook::Digest& sha256);  ///< its bytes

  /// Writes the daybook as it is at one moment, while others may go on writing into it, to a file that is a daybook of
  /// its own. It is written beside and then given its name. Errors: as for write_file; there is a file of that name
  /// that is no daybook, or one in use.
  [[nodiscard]] std::optional<Error> backup(const std::string& path);

 private:
  explicit DaybookStore(std::unique_ptr<Database> database);
  std::unique_ptr<Database> database_;
};

/// What each of two was given.
struct Exchanged {
  Added here;
  Added there;
  bool operator==(const Exchanged&) const = default;
};

/// Two daybooks become one set, attachments with them. Errors: of either; what was exchanged before stays.
[[nodiscard]] Result<Exchanged> exchange(DaybookStore& here, DaybookStore& there);

}  // namespace strikebed::host
