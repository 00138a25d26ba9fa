#pragma once
// A disk for SQLite that fails, is full, or loses its power at a chosen write or sync. It lies over the usual one (a
// VFS, sqlite.org/vfs.html) for as long as it lives; files are where they always are. What a cut leaves of a file is
// what was synced, and of what was written since, any part.
#include <sqlite3.h>

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

namespace strikebed::host {

class FaultyDisk {
 public:
  enum class Fault {
    none,
    fails_once,        ///< one write or sync says that it could not
    fails_from_then,   ///< and all after it too
    full_from_then,    ///< all writes say that there is no room
    loses_power,       ///< nothing more is done; what was not synced is lost
    loses_power_torn,  ///< of what was not synced some is lost, sector by sector
  };

  FaultyDisk(Fault fault, std::uint64_t at);
  FaultyDisk(const FaultyDisk&) = delete;
  FaultyDisk& operator=(const FaultyDisk&) = delete;
  ~FaultyDisk();

  [[nodiscard]] std::uint64_t operations() const { return done_; }  ///< writes and syncs so far
  [[nodiscard]] bool has_struck() const { return done_ > at_; }
  /// After a loss of power, once all files are closed: puts onto the disk what is left.
  void power_up();

 private:
  struct Write {
    std::size_t at;
    std::string bytes;
    bool is_cut = false;  ///< the file is only so long from then on
  };
  /// As the program sees it, and as the disk has it.
  struct Contents {
    std::string seen;
    std::string synced;
    bool is_synced = false;
    std::vector<Write> since;
  };
  struct File;  // one that SQLite has open

  static FaultyDisk& self() { return *self_; }
  static File& file(sqlite3_file* opened);
  static int open(sqlite3_vfs*, const char* name, sqlite3_file* opened, int flags, int* out_flags);
  static int remove(sqlite3_vfs*, const char* name, int sync_folder);
  static int write(sqlite3_file* opened, const void* bytes, int size, sqlite3_int64 at);
  static int truncate(sqlite3_file* opened, sqlite3_int64 size);
  static int sync(sqlite3_file* opened, int flags);
  static const sqlite3_io_methods& methods();

  /// The result that takes the place of the usual one; 0: none.
  int strike(bool is_sync);
  static void apply(const Write& write, std::string& contents);
  [[nodiscard]] std::string left_of(const Contents& contents);

  inline static FaultyDisk* self_ = nullptr;
  sqlite3_vfs* usual_;
  sqlite3_vfs vfs_{};
  Fault fault_;
  std::uint64_t at_;
  std::uint64_t done_ = 0;
  std::uint64_t draws_ = 0;
  std::map<std::string, Contents> contents_;
};

}  // namespace strikebed::host
