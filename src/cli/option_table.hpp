#pragma once
// A command as a table: its name, its help, its options, and what answers it. Only main.cpp knows the library that
// reads the command line.
#include <functional>
#include <string>
#include <variant>
#include <vector>

#include "base/date.hpp"
#include "base/field_names.hpp"
#include "base/result.hpp"

namespace strikebed::cli {

struct TableOption {
  std::string name;       ///< "--made-up-to"
  std::string field;      ///< of the request, as errors name it: "made_up_to"
  std::string type_name;  ///< "AMOUNT"; empty for a flag
  std::string help;       ///< one line in plain words
  /// Where the words go: text as typed, text given several times, yes or no, a day.
  std::variant<std::string*, std::vector<std::string>*, bool*, Date*> into;
};

struct CommandTable {
  std::string name;
  std::string summary;
  std::vector<TableOption> options;  ///< --json is added to every command
  std::string footer;                ///< an example or two
  /// Text or JSON; sentences call fields by the names of the options. Owns what the options point into.
  std::function<Result<std::string>(bool json, const FieldNames& options)> answer;
};

/// The option of each field.
[[nodiscard]] FieldNames names_of(const std::vector<TableOption>& options);

}  // namespace strikebed::cli
