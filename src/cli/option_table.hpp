#pragma once
// A command as a table: its name, its help, its options, and what answers it. Only main.cpp knows the library that
// reads the command line.
#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "base/date.hpp"

namespace strikebed::cli {

struct TableOption {
  std::string name;       ///< "--water"
  std::string type_name;  ///< "AMOUNT"; empty for a flag
  std::string help;       ///< one line in plain words
  /// Where the words go: text as typed, text given several times, yes or no, a day.
  std::variant<std::string*, std::vector<std::string>*, bool*, Date*> into;
};

struct CommandTable {
  std::string name;
  std::string summary;
  std::vector<TableOption> options;      ///< --json is added to every command
  std::string footer;                    ///< an example or two
  std::function<int(bool json)> answer;  ///< exit code; owns what the options point into
};

}  // namespace strikebed::cli
