#include "cli/output.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>

#include "cli/commands.hpp"

namespace strikebed::cli {
namespace {

constexpr auto kQuietFor = std::chrono::seconds(1);
constexpr auto kBetweenUpdates = std::chrono::milliseconds(100);
constexpr const char* kWipeLine = "\r\033[K";  // ECMA-48: back to the left margin, erase to the end of the line

}  // namespace

int print_answer(std::string_view text) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return kAnswered;
  const int error_number = errno;
  Error error;
  error.problem = "the answer cannot be written: " + std::generic_category().message(error_number);
  return complain(error);
}

int complain(const Error& error, const FieldNames& options) {
  for (std::string text : named(error, options).messages()) {
    // A path or a cell may hold anything; each message stays one line.
    std::replace_if(text.begin(), text.end(), [](char c) { return c == '\n' || c == '\r'; }, ' ');
    fmt::print(stderr, "strikebed: {}\n", text);
  }
  return kInputWrong;
}

void say(std::string_view text) { fmt::print(stderr, "strikebed: {}\n", text); }

Progress::Progress()
    : at_terminal_(::isatty(STDERR_FILENO) == 1), next_(std::chrono::steady_clock::now() + kQuietFor) {}

Progress::~Progress() {
  if (shown_) fmt::print(stderr, "{}", kWipeLine);
}

void Progress::show(double done, std::string_view what) {
  const auto now = std::chrono::steady_clock::now();
  if (!at_terminal_ || now < next_) return;
  fmt::print(stderr, "{}{:3.0f} %  {}", kWipeLine, 100 * std::clamp(done, 0.0, 1.0), what);
  std::fflush(stderr);
  shown_ = true;
  next_ = now + kBetweenUpdates;
}

}  // namespace strikebed::cli
