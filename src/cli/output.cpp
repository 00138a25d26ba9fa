#include "cli/output.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <string>
#include <system_error>
#include <utility>

#include "base/lines.hpp"
#include "base/shown_text.hpp"
#include "cli/commands.hpp"
#include "host/terminal.hpp"

namespace strikebed::cli {
namespace {

constexpr auto kQuietFor = std::chrono::seconds(1);
constexpr auto kBetweenUpdates = std::chrono::milliseconds(100);
constexpr const char* kWipeLine = "\r\033[K";  // ECMA-48: back to the left margin, erase to the end of the line
constexpr std::size_t kLongestPart = 1000;     // bytes of a message that are echoed; an argument may be any length

/// A full or closed standard error has nobody behind it to be told, and is no reason to end differently.
void write_to_standard_error(std::string_view text) {
  (void)std::fwrite(text.data(), 1, text.size(), stderr);
  std::fflush(stderr);
}

/// On one line, whatever a path or a cell holds.
std::string one_line(std::string_view text) {
  std::string line = safe_text(shortened(text, kLongestPart));
  std::replace_if(line.begin(), line.end(), [](char c) { return c == '\n' || c == '\t'; }, ' ');
  return line;
}

Error fit_to_be_said(Error error) {
  for (std::string Error::* part : {&Error::problem, &Error::allowed, &Error::field, &Error::file}) {
    error.*part = one_line(error.*part);
  }
  for (Error& other : error.others) other = fit_to_be_said(std::move(other));
  return error;
}

}  // namespace

int answer_width() {
  constexpr int kLongestLine = 100;
  return std::min(host::terminal_width().value_or(kUsualWidth), kLongestLine);
}

int print_answer(std::string_view answer) { return print_exact(safe_text(answer)); }

int print_exact(std::string_view text) {
  const bool written = std::fwrite(text.data(), 1, text.size(), stdout) == text.size();
  if (written && std::fflush(stdout) == 0) return kAnswered;
  const int error_number = errno;
  Error error;
  error.problem = "the answer cannot be written: " + std::generic_category().message(error_number);
  complain(error);
  return kInputWrong;
}

int complain(const Error& error, const FieldNames& options) {
  for (const std::string& text : fit_to_be_said(named(error, options)).messages()) say(text);
  return error.file.empty() ? kCommandLineWrong : kInputWrong;
}

void say(std::string_view text) { write_to_standard_error(fmt::format("strikebed: {}\n", safe_text(text))); }

void point_to_help(std::string_view command) {
  write_to_standard_error(fmt::format("Try: strikebed {}{}--help\n", command, command.empty() ? "" : " "));
}

Progress::Progress()
    : at_terminal_(::isatty(STDERR_FILENO) == 1), next_(std::chrono::steady_clock::now() + kQuietFor) {}

Progress::~Progress() {
  if (shown_) write_to_standard_error(kWipeLine);
}

void Progress::show(double done, std::string_view what) {
  const auto now = std::chrono::steady_clock::now();
  if (!at_terminal_ || now < next_) return;
  write_to_standard_error(fmt::format("{}{:3.0f} %  {}", kWipeLine, 100 * std::clamp(done, 0.0, 1.0), what));
  shown_ = true;
  next_ = now + kBetweenUpdates;
}

}  // namespace strikebed::cli
