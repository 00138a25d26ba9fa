#include "host/files.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <poll.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <cstdio>
#include <cstdlib>
#include <system_error>
#include <utility>

namespace strikebed::host {
namespace {

constexpr int kForEver = -1;        // to poll()
constexpr int kPatience_ms = 2000;  // with a pipe that nobody writes into

/// An open file that closes itself.
class OpenFile {
 public:
  explicit OpenFile(int descriptor) : descriptor_(descriptor) {}
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  ~OpenFile() { close(); }

  [[nodiscard]] bool ok() const { return descriptor_ >= 0; }
  [[nodiscard]] int descriptor() const { return descriptor_; }
  bool close() {
    const bool closed = descriptor_ < 0 || ::close(descriptor_) == 0;
    descriptor_ = -1;
    return closed;
  }

 private:
  int descriptor_;
};

std::string reason(int error_number) { return std::generic_category().message(error_number); }

Error read_error(const std::string& path, int error_number) {
  Error error;
  error.file = path;
  switch (error_number) {
    case ENOENT:
    case ENOTDIR:
      error.problem = "there is no such file";
      break;
    case EACCES:
    case EPERM:
      error.problem = "this file may not be read (permission denied)";
      break;
    case EISDIR:
      error.problem = "this is a folder";
      error.allowed = "the name of a file";
      break;
    default:
      error.problem = "this file cannot be read: " + reason(error_number);
  }
  return error;
}

Error write_error(const std::string& path, int error_number) {
  Error error;
  error.file = path;
  switch (error_number) {
    case ENOENT:
    case ENOTDIR:
      error.problem = "cannot write this file: its folder does not exist";
      error.allowed = "a file name in a folder that is there";
      break;
    case EACCES:
    case EPERM:
    case EROFS:
      error.problem = "cannot write this file: its folder may not be written to";
      error.allowed = "a file name in a folder of your own";
      break;
    case ENXIO:
      error.problem = "cannot write into this pipe: nobody reads from it";
      break;
    case EISDIR:
      error.problem = "cannot write this file: there is a folder of that name";
      error.allowed = "the name of a file";
      break;
    default:
      error.problem = "cannot write this file: " + reason(error_number);
  }
  return error;
}

Error too_large(const std::string& path, std::size_t at_most_bytes, std::string_view found) {
  const std::string cap = at_most_bytes < kMegabyte ? fmt::format("{} bytes", at_most_bytes)
                                                    : fmt::format("{} MB", at_most_bytes / kMegabyte);
  Error error;
  error.file = path;
  error.problem = fmt::format("this file is too large{}", found);
  error.allowed = "at most " + cap;
  return error;
}

Error silent_pipe(const std::string& path) {
  return {.problem = "this is a pipe, and nobody writes into it",
          .allowed = "a file, or a pipe that something is written into",
          .file = path};
}

/// Writes all of it; 0 or the error number.
int write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t written = ::write(descriptor, text.data(), text.size());
    if (written < 0) {
      if (errno == EINTR) continue;
      return errno;
    }
    text.remove_prefix(static_cast<std::size_t>(written));
  }
  return 0;
}

std::optional<Error> write_in_place(const std::string& path, std::string_view text) {
  OpenFile file(::open(path.c_str(), O_WRONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY));  // a pipe is not waited on
  if (!file.ok()) return write_error(path, errno);
  ::fcntl(file.descriptor(), F_SETFL, O_WRONLY);
  if (const int failed = write_all(file.descriptor(), text)) return write_error(path, failed);
  if (!file.close()) return write_error(path, errno);
  return std::nullopt;
}

/// Waits until there is something to read, or its writer is gone; false: neither has happened by then.
bool await_input(int descriptor, int patience_ms) {
  pollfd waiting{.fd = descriptor, .events = POLLIN, .revents = 0};
  return ::poll(&waiting, 1, patience_ms) != 0;
}

/// A file that is there and is of another kind.
std::optional<Error> would_be_lost(const std::string& path, const FileKind& kind) {
  std::string beginning(kind.begins.size(), ' ');
  const OpenFile file(::open(path.c_str(), O_RDONLY | O_CLOEXEC));
  if (!file.ok()) return write_error(path, errno);
  const ssize_t got = ::read(file.descriptor(), beginning.data(), beginning.size());
  beginning.resize(static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
  const auto same = [](unsigned char a, unsigned char b) { return std::tolower(a) == std::tolower(b); };
  if (std::ranges::equal(beginning, kind.begins, same)) return std::nullopt;
  return Error{
      .problem = fmt::format("there is a file of this name already that is no {}; it would be lost", kind.is_called),
      .allowed = "a new name, or that of an earlier one",
      .file = path};
}

/// The permissions that a newly made file gets here.
mode_t usual_permissions() {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return 0666 & ~mask;
}

/// So that a new name is on the disk too; 0 or the error number. Where a folder cannot be synced, there is nothing to
/// do.
int sync_folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  const std::string folder = slash == std::string::npos ? "." : path.substr(0, slash + 1);
  const OpenFile opened(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (!opened.ok() || ::fsync(opened.descriptor()) == 0 || errno == EINVAL || errno == EROFS) return 0;
  return errno;
}

}  // namespace

std::optional<Error> wrong_place_for(const FileKind& kind, const std::string& path) {
  struct stat status{};
  const bool exists = ::stat(path.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode)) return write_error(path, EISDIR);
  if (exists && !S_ISREG(status.st_mode)) return std::nullopt;
  if (exists && status.st_size > 0) {
    if (auto lost = would_be_lost(path, kind)) return lost;
  }
  std::string temporary = path + ".XXXXXX";
  const OpenFile tried(::mkstemp(temporary.data()));
  if (!tried.ok()) return write_error(path, errno);
  ::unlink(temporary.c_str());
  return std::nullopt;
}

Result<std::string> read_file(const std::string& path, std::size_t at_most_bytes, JudgeBeginning judge) {
  // Without waiting: a named pipe is otherwise opened only once somebody opens its other end.
  const OpenFile file(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY));
  if (!file.ok()) return read_error(path, errno);
  struct stat status{};
  if (::fstat(file.descriptor(), &status) != 0) return read_error(path, errno);
  if (S_ISDIR(status.st_mode)) return read_error(path, EISDIR);
  if (S_ISCHR(status.st_mode) || S_ISBLK(status.st_mode)) {
    return Error{.problem = "this is a device", .allowed = "the name of a file", .file = path};
  }
  const auto size = static_cast<std::size_t>(status.st_size);
  if (size > at_most_bytes) return too_large(path, at_most_bytes, fmt::format(" ({} bytes)", size));
  bool nobody_yet = S_ISFIFO(status.st_mode);  // a pipe without a writer reads as if it were at its end

  // A pipe has no size, and a file may grow while it is read: read until the end, whatever was announced.
  std::string text;
  std::size_t filled = 0;
  text.resize(size + 1);
  while (true) {
    const ssize_t got = ::read(file.descriptor(), text.data() + filled, text.size() - filled);
    if (got < 0) {
      if (errno == EAGAIN) await_input(file.descriptor(), kForEver);
      if (errno == EINTR || errno == EAGAIN) continue;
      return read_error(path, errno);
    }
    if (got == 0 && nobody_yet) {
      nobody_yet = false;
      if (!await_input(file.descriptor(), kPatience_ms)) return silent_pipe(path);
      continue;
    }
    if (got == 0) break;
    nobody_yet = false;
    filled += static_cast<std::size_t>(got);
    if (judge != nullptr && filled >= kMegabyte) {
      if (auto wrong = judge(std::string_view(text).substr(0, filled), path)) return *wrong;
      judge = nullptr;
    }
    if (filled > at_most_bytes) return too_large(path, at_most_bytes, "");
    if (filled == text.size()) text.resize(std::min(2 * text.size() + 4096, at_most_bytes + 1));
  }
  text.resize(filled);
  return text;
}

std::optional<Error> write_file(const std::string& path, std::string_view text) {
  struct stat status{};
  const bool exists = ::stat(path.c_str(), &status) == 0;
  if (exists && S_ISDIR(status.st_mode)) return write_error(path, EISDIR);
  if (exists && !S_ISREG(status.st_mode)) return write_in_place(path, text);

  auto file = FileInTheMaking::begin(path);
  if (!file) return file.error();
  if (auto error = file->write(text)) return error;
  return file->finish();
}

Result<FileInTheMaking> FileInTheMaking::begin(const std::string& path) {
  struct stat status{};
  if (::stat(path.c_str(), &status) == 0 && S_ISDIR(status.st_mode)) return write_error(path, EISDIR);
  std::string temporary = path + ".XXXXXX";
  const int descriptor = ::mkostemp(temporary.data(), O_CLOEXEC);
  if (descriptor < 0) return write_error(path, errno);
  return FileInTheMaking(path, std::move(temporary), descriptor);
}

FileInTheMaking::FileInTheMaking(std::string path, std::string temporary, int descriptor)
    : path_(std::move(path)), temporary_(std::move(temporary)), descriptor_(descriptor) {}

FileInTheMaking::FileInTheMaking(FileInTheMaking&& other) noexcept
    : path_(std::move(other.path_)),
      temporary_(std::move(other.temporary_)),
      descriptor_(std::exchange(other.descriptor_, -1)) {}

FileInTheMaking::~FileInTheMaking() {
  if (descriptor_ < 0) return;
  ::close(descriptor_);
  ::unlink(temporary_.c_str());
}

std::optional<Error> FileInTheMaking::write(std::string_view more) {
  const int failed = write_all(descriptor_, more);
  return failed == 0 ? std::nullopt : std::optional(write_error(path_, failed));
}

std::optional<Error> FileInTheMaking::finish() {
  struct stat status{};
  const bool exists = ::stat(path_.c_str(), &status) == 0;
  if (::fchmod(descriptor_, exists ? status.st_mode & 07777 : usual_permissions()) != 0 || ::fsync(descriptor_) != 0 ||
      std::rename(temporary_.c_str(), path_.c_str()) != 0) {
    return write_error(path_, errno);
  }
  const int failed = ::close(std::exchange(descriptor_, -1)) == 0 ? sync_folder_of(path_) : errno;
  return failed == 0 ? std::nullopt : std::optional(write_error(path_, failed));
}

}  // namespace strikebed::host
