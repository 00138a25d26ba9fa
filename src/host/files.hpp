#pragma once
// Text files in and out: whole, capped on the way in, never half written on the way out.
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace strikebed::host {

inline constexpr std::size_t kMegabyte = std::size_t{1024} * 1024;
/// The largest file that is read: 150 years of hourly weather, in wide rows.
inline constexpr std::size_t kLargestFileBytes = 128 * kMegabyte;

/// What already the beginning of a long text tells: why it need not be read to its end, or nothing.
using JudgeBeginning = std::optional<Error> (*)(std::string_view beginning, const std::string& path);

/// The whole of a file. `judge` is asked once a megabyte is there, so that what never ends is not read up to the cap.
/// Errors, all naming the path: there is no such file, it is a folder or a device, it may not be read, it is larger
/// than `at_most_bytes` (its size is looked up first, so a huge file costs nothing), it is a pipe into which nobody
/// writes (within two seconds); what `judge` says.
[[nodiscard]] Result<std::string> read_file(const std::string& path, std::size_t at_most_bytes = kLargestFileBytes,
                                            JudgeBeginning judge = nullptr);

/// A file on its way: it is written under a temporary name in the folder that it is for, and gets its own name once it
/// is whole, so that a reader, a full disk or a power cut never meets half of it. Let go before that, it leaves
/// nothing. Errors of each step, all naming the path: the folder does not exist, it may not be written to, the disk is
/// full.
class FileInTheMaking {
 public:
  [[nodiscard]] static Result<FileInTheMaking> begin(const std::string& path);
  FileInTheMaking(FileInTheMaking&& other) noexcept;
  FileInTheMaking& operator=(FileInTheMaking&&) = delete;
  ~FileInTheMaking();

  [[nodiscard]] const std::string& temporary() const { return temporary_; }  ///< for who writes it by its name
  [[nodiscard]] std::optional<Error> write(std::string_view more);
  /// With the permissions of the file that it takes the place of, or those that a new one gets here.
  [[nodiscard]] std::optional<Error> finish();

 private:
  FileInTheMaking(std::string path, std::string temporary, int descriptor);
  std::string path_;
  std::string temporary_;
  int descriptor_;  ///< -1: nothing is left to be done
};

/// Writes a file as above, all of it at once. A pipe or device is written to directly.
/// Returns what went wrong, or nothing.
[[nodiscard]] std::optional<Error> write_file(const std::string& path, std::string_view text);

/// A kind of file that is written, known by how it begins, in small or capital letters.
struct FileKind {
  std::string_view begins;
  std::string_view is_called;
};
inline constexpr FileKind kPage{"<!doctype html", "HTML page"};

/// What speaks against writing a file there, if anything, found out before the work is done: a file of that name of
/// another kind, which would be lost; and what write_file would say of its folder.
[[nodiscard]] std::optional<Error> wrong_place_for(const FileKind& kind, const std::string& path);

}  // namespace strikebed::host
