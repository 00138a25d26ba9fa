#pragma once
// What every command does with its answer: print it, complain in one line, show how far it is.
#include <chrono>
#include <string_view>

#include "base/field_names.hpp"
#include "base/result.hpp"

namespace strikebed::cli {

// Whatever is printed is made safe for a terminal first (base/shown_text.hpp).

/// Characters in a line of an answer: those of the terminal, but no longer lines than can be read; 80 when it is none.
[[nodiscard]] int answer_width();

/// Prints the answer to standard output; kAnswered, or kInputWrong with a message when it cannot be written.
int print_answer(std::string_view answer);
/// The same byte for byte: a file of its own that goes into another program.
int print_exact(std::string_view text);

/// A line to standard error for each thing that was wrong, starting with "strikebed: "; kInputWrong where the first is
/// in a file, kCommandLineWrong where it is in what was typed. Fields of the request are called by their options. Very
/// long arguments are cut in the middle.
int complain(const Error& error, const FieldNames& options = {});

/// One line to standard error that is no complaint.
void say(std::string_view text);

/// Where to look after a wrong command line; `command` as typed, empty for the program itself.
void point_to_help(std::string_view command);

/// A line of progress on standard error, for work that takes more than a second at a terminal; nothing otherwise. The
/// line is wiped when the work is done.
class Progress {
 public:
  Progress();
  Progress(const Progress&) = delete;
  Progress& operator=(const Progress&) = delete;
  ~Progress();

  /// done: share of the work, 0 to 1; what: a few words, "sowing dates".
  void show(double done, std::string_view what);

 private:
  bool at_terminal_;
  bool shown_ = false;
  std::chrono::steady_clock::time_point next_;
};

}  // namespace strikebed::cli
