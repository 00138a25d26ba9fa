#pragma once
// Places for daybooks in tests: files in a temporary folder, or tables in a PostgreSQL database that CTest started
// (tests/host/postgres.py).
#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "host/store/database.hpp"
#include "host/store/daybook_store.hpp"
#include "tests/host/temporary_folder.hpp"

namespace strikebed::host {

enum class Kind { sqlite, postgres };

class Places {
 public:
  explicit Places(Kind kind) : kind_(kind) {}
  Places(const Places&) = delete;
  Places& operator=(const Places&) = delete;
  ~Places() {
    for (const std::string& schema : schemas_) run("DROP SCHEMA " + schema + " CASCADE");
  }

  /// Where a new daybook can be.
  std::string fresh(const std::string& name) {
    if (kind_ == Kind::sqlite) return folder_.path(name + ".daybook");
    const std::string schema = name + "_" + std::to_string(::getpid()) + "_" + std::to_string(schemas_.size());
    run("CREATE SCHEMA " + schema);
    schemas_.push_back(schema);
    return server() + "&options=-csearch_path%3D" + schema;
  }
  [[nodiscard]] std::string file(const std::string& name) const { return folder_.path(name); }
  [[nodiscard]] const TemporaryFolder& folder() const { return folder_; }

  static std::unique_ptr<Database> open(const std::string& where) {
    auto opened = is_postgres_address(where) ? open_postgres(where, Access::write) : open_sqlite(where, Access::write);
    if (opened) return std::move(*opened);
    ADD_FAILURE() << opened.error().message();
    std::abort();
  }

 private:
  static std::string server() {
    std::ifstream file(POSTGRES_ADDRESS_FILE);
    std::string address;
    if (std::getline(file, address)) return address;
    ADD_FAILURE() << "no PostgreSQL runs: start one with tests/host/postgres.py start " POSTGRES_ADDRESS_FILE;
    std::abort();
  }
  static void run(const std::string& sql) {
    const auto done = open(server())->run(sql);
    if (!done) ADD_FAILURE() << done.error().message();
  }

  Kind kind_;
  TemporaryFolder folder_;
  std::vector<std::string> schemas_;
};

/// Opens, or ends the test.
inline DaybookStore opened(const std::string& where, Access access = Access::create) {
  auto store = DaybookStore::open(where, access);
  if (store) return std::move(*store);
  ADD_FAILURE() << store.error().message();
  std::abort();
}

inline std::string message_of(const auto& result) { return result ? std::string("none") : result.error().message(); }

}  // namespace strikebed::host
