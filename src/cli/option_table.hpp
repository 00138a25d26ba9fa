#pragma once
// A command as a table: its name, its help, its options, and what answers it. Only main.cpp knows the library that
// reads the command line.
#include <functional>
#include <string>
#include <vector>

#include "base/field_names.hpp"
#include "base/result.hpp"
#include "nursery/mixes/word_fields.hpp"

namespace strikebed::cli {

struct TableOption {
  std::string name;       ///< "--made-up-to"
  std::string field;      ///< of the request, as errors name it: "made_up_to"
  std::string type_name;  ///< "AMOUNT"; empty for a flag
  std::string help;       ///< one line in plain words
};

struct CommandTable {
  std::string name;
  std::string summary;
  nursery::WordFields fields;        ///< of the request; each option fills the one that it names
  std::vector<TableOption> options;  ///< --json is added to every command
  std::string footer;                ///< an example or two
  /// Text or JSON; sentences call fields by the names of the options. Owns what the fields point into.
  std::function<Result<std::string>(bool json, const FieldNames& options)> answer;
};

/// The option of each field.
[[nodiscard]] FieldNames names_of(const std::vector<TableOption>& options);

}  // namespace strikebed::cli
