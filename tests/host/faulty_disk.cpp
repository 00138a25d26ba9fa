#include "tests/host/faulty_disk.hpp"

#include <algorithm>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <new>

#include "base/random.hpp"

namespace strikebed::host {
namespace {

constexpr std::size_t kSector = 512;
constexpr int kFollowed = SQLITE_OPEN_MAIN_DB | SQLITE_OPEN_MAIN_JOURNAL | SQLITE_OPEN_WAL;

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

/// Lies in the room that SQLite gives, with the usual file behind it.
struct FaultyDisk::File {
  sqlite3_file base;
  Contents* contents;
  sqlite3_file* usual() { return reinterpret_cast<sqlite3_file*>(this + 1); }
};

FaultyDisk::File& FaultyDisk::file(sqlite3_file* opened) { return *reinterpret_cast<File*>(opened); }

FaultyDisk::FaultyDisk(Fault fault, std::uint64_t at) : usual_(sqlite3_vfs_find(nullptr)), fault_(fault), at_(at) {
  self_ = this;
  vfs_ = *usual_;
  vfs_.zName = "faulty";
  vfs_.pNext = nullptr;
  vfs_.szOsFile = static_cast<int>(sizeof(File)) + usual_->szOsFile;
  vfs_.xOpen = open;
  vfs_.xDelete = remove;
  sqlite3_vfs_register(&vfs_, 1);
}

FaultyDisk::~FaultyDisk() {
  sqlite3_vfs_unregister(&vfs_);
  sqlite3_vfs_register(usual_, 1);
  self_ = nullptr;
}

int FaultyDisk::strike(bool is_sync) {
  const std::uint64_t now = done_++;
  if (now < at_) return SQLITE_OK;
  switch (fault_) {
    case Fault::none:
      return SQLITE_OK;
    case Fault::fails_once:
      return now != at_ ? SQLITE_OK : is_sync ? SQLITE_IOERR_FSYNC : SQLITE_IOERR_WRITE;
    case Fault::full_from_then:
      return is_sync ? SQLITE_OK : SQLITE_FULL;
    default:
      return is_sync ? SQLITE_IOERR_FSYNC : SQLITE_IOERR_WRITE;
  }
}

int FaultyDisk::open(sqlite3_vfs*, const char* name, sqlite3_file* opened, int flags, int* out_flags) {
  File& own = *new (opened) File{};
  const bool is_followed = name != nullptr && (flags & kFollowed) != 0;
  const bool is_there = is_followed && std::filesystem::exists(name);
  const int code = self().usual_->xOpen(self().usual_, name, own.usual(), flags, out_flags);
  if (code != SQLITE_OK) return code;
  own.base.pMethods = &methods();
  if (!is_followed) return code;
  const auto [found, is_new] = self().contents_.try_emplace(name);
  if (is_new && is_there) {
    const std::string text = text_of(name);
    found->second = {text, text, true, {}};
  }
  own.contents = &found->second;
  return code;
}

int FaultyDisk::remove(sqlite3_vfs*, const char* name, int sync_folder) {
  FaultyDisk& disk = self();
  const bool has_lost_power = disk.has_struck() && disk.fault_ >= Fault::loses_power;
  if (has_lost_power) return SQLITE_IOERR_DELETE;
  const int code = disk.usual_->xDelete(disk.usual_, name, sync_folder);
  const auto found = disk.contents_.find(name);
  if (code != SQLITE_OK || found == disk.contents_.end()) return code;
  // Without a sync of its folder, the disk may have it still.
  Contents& contents = found->second;
  contents.seen.clear();
  contents.since.clear();
  if (sync_folder != 0) contents = {};
  return code;
}

int FaultyDisk::write(sqlite3_file* opened, const void* bytes, int size, sqlite3_int64 at) {
  File& own = file(opened);
  if (own.contents != nullptr) {
    if (const int code = self().strike(false)) return code;
    own.contents->since.push_back(
        {static_cast<std::size_t>(at), {static_cast<const char*>(bytes), static_cast<std::size_t>(size)}});
    apply(own.contents->since.back(), own.contents->seen);
  }
  return own.usual()->pMethods->xWrite(own.usual(), bytes, size, at);
}

int FaultyDisk::truncate(sqlite3_file* opened, sqlite3_int64 size) {
  File& own = file(opened);
  if (own.contents != nullptr) {
    if (const int code = self().strike(false)) return code;
    own.contents->since.push_back({static_cast<std::size_t>(size), {}, true});
    apply(own.contents->since.back(), own.contents->seen);
  }
  return own.usual()->pMethods->xTruncate(own.usual(), size);
}

/// The machine goes on, so that the usual disk need not be waited for.
int FaultyDisk::sync(sqlite3_file* opened, int) {
  Contents* contents = file(opened).contents;
  if (contents == nullptr) return SQLITE_OK;
  if (const int code = self().strike(true)) return code;
  contents->synced = contents->seen;
  contents->is_synced = true;
  contents->since.clear();
  return SQLITE_OK;
}

const sqlite3_io_methods& FaultyDisk::methods() {
  static const sqlite3_io_methods all = [] {
    sqlite3_io_methods these{};
    these.iVersion = 2;
    these.xClose = [](sqlite3_file* f) { return file(f).usual()->pMethods->xClose(file(f).usual()); };
    these.xRead = [](sqlite3_file* f, void* into, int size, sqlite3_int64 at) {
      return file(f).usual()->pMethods->xRead(file(f).usual(), into, size, at);
    };
    these.xWrite = write;
    these.xTruncate = truncate;
    these.xSync = sync;
    these.xFileSize = [](sqlite3_file* f, sqlite3_int64* size) {
      return file(f).usual()->pMethods->xFileSize(file(f).usual(), size);
    };
    these.xLock = [](sqlite3_file* f, int l) { return file(f).usual()->pMethods->xLock(file(f).usual(), l); };
    these.xUnlock = [](sqlite3_file* f, int l) { return file(f).usual()->pMethods->xUnlock(file(f).usual(), l); };
    these.xCheckReservedLock = [](sqlite3_file* f, int* out) {
      return file(f).usual()->pMethods->xCheckReservedLock(file(f).usual(), out);
    };
    these.xFileControl = [](sqlite3_file* f, int what, void* arg) {
      return file(f).usual()->pMethods->xFileControl(file(f).usual(), what, arg);
    };
    these.xSectorSize = [](sqlite3_file* f) { return file(f).usual()->pMethods->xSectorSize(file(f).usual()); };
    // It promises nothing, such as that a sector is written whole, that the usual disk may promise.
    these.xDeviceCharacteristics = [](sqlite3_file*) { return 0; };
    these.xShmMap = [](sqlite3_file* f, int page, int size, int extend, void volatile** at) {
      return file(f).usual()->pMethods->xShmMap(file(f).usual(), page, size, extend, at);
    };
    these.xShmLock = [](sqlite3_file* f, int offset, int n, int flags) {
      return file(f).usual()->pMethods->xShmLock(file(f).usual(), offset, n, flags);
    };
    these.xShmBarrier = [](sqlite3_file* f) { file(f).usual()->pMethods->xShmBarrier(file(f).usual()); };
    these.xShmUnmap = [](sqlite3_file* f, int gone) {
      return file(f).usual()->pMethods->xShmUnmap(file(f).usual(), gone);
    };
    return these;
  }();
  return all;
}

void FaultyDisk::apply(const Write& write, std::string& contents) {
  if (write.is_cut) {
    contents.resize(std::min(contents.size(), write.at));
    return;
  }
  contents.resize(std::max(contents.size(), write.at + write.bytes.size()), '\0');
  contents.replace(write.at, write.bytes.size(), write.bytes);
}

std::string FaultyDisk::left_of(const Contents& contents) {
  std::string left = contents.synced;
  if (fault_ != Fault::loses_power_torn) return left;
  const auto by_chance = [&] { return random_bits(at_, ++draws_) % 2 == 0; };
  for (const Write& write : contents.since) {
    if (write.is_cut) {
      if (by_chance()) apply(write, left);
      continue;
    }
    for (std::size_t at = 0; at < write.bytes.size(); at += kSector) {
      if (by_chance()) apply({write.at + at, write.bytes.substr(at, kSector)}, left);
    }
  }
  return left;
}

void FaultyDisk::power_up() {
  for (const auto& [path, contents] : contents_) {
    std::filesystem::remove(path + "-shm");
    const std::string left = left_of(contents);
    if (!contents.is_synced && left.empty()) {
      std::filesystem::remove(path);
      continue;
    }
    std::ofstream(path, std::ios::binary | std::ios::trunc) << left;
  }
  contents_.clear();
}

}  // namespace strikebed::host
