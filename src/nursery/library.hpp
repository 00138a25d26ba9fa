#pragma once
// What a question may name: profiles by their ids, files of the grower's own by their paths, time zones by their names.
// Handed in by the home that the program runs in (from disk by src/host, from memory by a page), so that nothing on
// this floor knows a disk.
#include <functional>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::nursery {

/// A text and the name of its file, for messages.
struct Text {
  std::string file;
  std::string text;
  bool operator==(const Text&) const = default;
};
using Texts = std::map<std::string, Text, std::less<>>;  ///< by id: the name of each file without .toml
/// The text of a file that is named in a question, or why there is none (the error names the file).
using ReadText = std::function<Result<Text>(const std::string& path)>;

/// All that a home hands in. An empty part is one that this home does not have.
///   feed        "season": the phases of feeding
///   own_file    path as written, in the goal file or on the command line; relative ones are the home's to resolve
///   time_zones  names of the time-zone database
struct Library {
  Texts species;
  Texts methods;
  Texts materials;
  Texts feed;
  ReadText own_file;
  std::vector<std::string> time_zones;

  /// A file of the grower's own. Errors: those of own_file; a home without such files.
  [[nodiscard]] Result<Text> own(const std::string& path) const;
};

/// The ids, for messages; they live as long as the texts.
[[nodiscard]] std::vector<std::string_view> ids_of(const Texts& texts);

/// The id of a file of the grower's own: its name without folder and ending, "my-cut" of "files/my-cut.toml".
[[nodiscard]] std::string id_of_file(std::string_view path);

}  // namespace strikebed::nursery
