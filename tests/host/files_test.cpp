// Covers  reading whole files with a cap, and writing that leaves either the old file or the new one.
// Ref     none needed: bytes in, bytes out, and the messages of files.cpp.
#include "host/files.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <chrono>
#include <csignal>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <thread>

namespace strikebed::host {
namespace {

class Files : public ::testing::Test {
 protected:
  void SetUp() override {
    std::string pattern = (std::filesystem::temp_directory_path() / "strikebed-files-XXXXXX").string();
    ASSERT_NE(::mkdtemp(pattern.data()), nullptr);
    folder_ = pattern;
  }
  void TearDown() override { std::filesystem::remove_all(folder_); }
  [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }
  [[nodiscard]] std::size_t files_in_folder() const {
    return static_cast<std::size_t>(std::distance(std::filesystem::directory_iterator(folder_), {}));
  }
  std::filesystem::path folder_;
};

TEST_F(Files, WhatIsWrittenIsReadBackByteForByte) {
  const std::string text("a\r\nb\0c\n", 7);
  ASSERT_EQ(write_file(path("a.txt"), text), std::nullopt);
  const auto back = read_file(path("a.txt"));
  ASSERT_TRUE(back.ok());
  EXPECT_EQ(*back, text);
  EXPECT_EQ(files_in_folder(), 1U) << "no temporary file is left";
}

TEST_F(Files, AnEmptyFileIsEmptyText) {
  ASSERT_EQ(write_file(path("empty"), ""), std::nullopt);
  const auto back = read_file(path("empty"));
  ASSERT_TRUE(back.ok());
  EXPECT_TRUE(back->empty());
}

TEST_F(Files, WritingKeepsThePermissionsOfTheFileItReplaces) {
  ASSERT_EQ(write_file(path("shared"), "old"), std::nullopt);
  ASSERT_EQ(::chmod(path("shared").c_str(), 0640), 0);
  ASSERT_EQ(write_file(path("shared"), "new"), std::nullopt);
  struct stat status{};
  ASSERT_EQ(::stat(path("shared").c_str(), &status), 0);
  EXPECT_EQ(status.st_mode & 0777, 0640U);
  EXPECT_EQ(*read_file(path("shared")), "new");
}

TEST_F(Files, AMissingFileAFolderAndATooLargeOneAreNamed) {
  const auto missing = read_file(path("nothing.csv"));
  ASSERT_FALSE(missing.ok());
  EXPECT_EQ(missing.error().message(), path("nothing.csv") + ": there is no such file");

  const auto folder = read_file(folder_.string());
  ASSERT_FALSE(folder.ok());
  EXPECT_EQ(folder.error().message(), folder_.string() + ": this is a folder; allowed: the name of a file");

  ASSERT_EQ(write_file(path("six"), "123456"), std::nullopt);
  EXPECT_TRUE(read_file(path("six"), 6).ok());
  const auto large = read_file(path("six"), 5);
  ASSERT_FALSE(large.ok());
  EXPECT_EQ(large.error().message(), path("six") + ": this file is too large (6 bytes); allowed: at most 5 bytes");
}

TEST_F(Files, AFileOfOneGigabyteIsRefusedByItsSize) {
  std::ofstream(path("huge")).close();
  std::filesystem::resize_file(path("huge"), std::uintmax_t{1} << 30);  // sparse: takes no room
  const auto huge = read_file(path("huge"));
  ASSERT_FALSE(huge.ok());
  EXPECT_EQ(huge.error().message(),
            path("huge") + ": this file is too large (1073741824 bytes); allowed: at most 128 MB");
}

TEST_F(Files, WritingIntoAFolderThatIsNotThereOrOverAFolderIsRefused) {
  const auto no_folder = write_file(path("no/such/report.html"), "x");
  ASSERT_TRUE(no_folder);
  EXPECT_EQ(no_folder->message(), path("no/such/report.html") +
                                      ": cannot write this file: its folder does not exist; allowed: a file name in a "
                                      "folder that is there");
  const auto over_folder = write_file(folder_.string(), "x");
  ASSERT_TRUE(over_folder);
  EXPECT_EQ(over_folder->problem, "cannot write this file: there is a folder of that name");
  EXPECT_EQ(files_in_folder(), 0U);
}

TEST_F(Files, AFullDiskLeavesNoFileBehind) {
  // /dev/full refuses every byte with "no space left"; a device is written to directly.
  const auto full = write_file("/dev/full", "x");
  ASSERT_TRUE(full);
  EXPECT_EQ(full->message(), "/dev/full: cannot write this file: No space left on device");
}

TEST_F(Files, ADeviceIsNoFile) {
  // /dev/zero never ends: it must not be read up to the cap.
  const auto endless = read_file("/dev/zero");
  ASSERT_FALSE(endless.ok());
  EXPECT_EQ(endless.error().message(), "/dev/zero: this is a device; allowed: the name of a file");
}

TEST_F(Files, APipeWithoutAWriterIsSaidAndNotWaitedOn) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  const auto begun = std::chrono::steady_clock::now();
  const auto silent = read_file(path("pipe"));
  EXPECT_LT(std::chrono::steady_clock::now() - begun, std::chrono::seconds(20));
  ASSERT_FALSE(silent.ok());
  EXPECT_EQ(silent.error().problem, "this is a pipe, and nobody writes into it");
  const auto unread = write_file(path("pipe"), "x");
  ASSERT_TRUE(unread);
  EXPECT_EQ(unread->problem, "cannot write into this pipe: nobody reads from it");
}

TEST_F(Files, AWriterThatComesLateAndIsSlowIsReadToItsEnd) {
  ASSERT_EQ(::mkfifo(path("pipe").c_str(), 0600), 0);
  std::thread writer([&] {
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    std::ofstream pipe(path("pipe"));
    pipe << "first," << std::flush;
    std::this_thread::sleep_for(std::chrono::milliseconds(200));
    pipe << "then";
  });
  const auto text = read_file(path("pipe"));
  writer.join();
  ASSERT_TRUE(text.ok()) << text.error().message();
  EXPECT_EQ(*text, "first,then");
}

// One that never ends is left after its first megabyte, where that is enough to tell, and at the cap otherwise.
TEST_F(Files, AnEndlessPipeIsLeftAsSoonAsItsBeginningTells) {
  const auto judged = [](std::string_view beginning, const std::string& file) -> std::optional<Error> {
    return beginning[0] == 'y' ? std::optional(Error{.problem = "only y", .allowed = {}, .file = file}) : std::nullopt;
  };
  const auto bytes_read = [&](const std::string& name, std::string_view line, std::string& problem) {
    EXPECT_EQ(::mkfifo(path(name).c_str(), 0600), 0);
    std::size_t written = 0;
    std::thread writer([&] {
      const int pipe = ::open(path(name).c_str(), O_WRONLY);
      while (::write(pipe, line.data(), line.size()) > 0) written += line.size();
      ::close(pipe);
    });
    const auto text = read_file(path(name), 3 * kMegabyte, judged);
    writer.join();
    problem = text.ok() ? "" : text.error().problem;
    return written;
  };
  std::signal(SIGPIPE, SIG_IGN);
  std::string problem;
  EXPECT_LT(bytes_read("noise", "y\n", problem), kMegabyte + kMegabyte / 2);
  EXPECT_EQ(problem, "only y");
  EXPECT_LT(bytes_read("rows", "2027-05-01,1,2\n", problem), 4 * kMegabyte);
  EXPECT_EQ(problem, "this file is too large");
}

TEST_F(Files, AWrongPlaceForAPageIsFoundBeforeAnythingIsWritten) {
  EXPECT_EQ(wrong_place_for(kPage, path("new.html")), std::nullopt);
  EXPECT_EQ(files_in_folder(), 0U) << "what was tried is taken away again";
  ASSERT_TRUE(wrong_place_for(kPage, path("no/such/page.html")));
  EXPECT_EQ(wrong_place_for(kPage, path("no/such/page.html"))->problem,
            "cannot write this file: its folder does not exist");
  EXPECT_EQ(wrong_place_for(kPage, folder_.string())->problem,
            "cannot write this file: there is a folder of that name");
  ASSERT_EQ(write_file(path("notes.txt"), "my notes"), std::nullopt);
  EXPECT_TRUE(wrong_place_for(kPage, path("notes.txt")));
  ASSERT_EQ(write_file(path("old.html"), "<!DOCTYPE html><p>old"), std::nullopt);
  EXPECT_EQ(wrong_place_for(kPage, path("old.html")), std::nullopt);
  EXPECT_EQ(*read_file(path("old.html")), "<!DOCTYPE html><p>old");
}

}  // namespace
}  // namespace strikebed::host
