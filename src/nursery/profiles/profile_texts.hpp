#pragma once
// The texts of a folder of profiles, by id: the name of each file without .toml.
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::nursery {

/// One TOML text and the name of its file, for messages.
struct ProfileText {
  std::string file;
  std::string text;
};
using ProfileTexts = std::map<std::string, ProfileText, std::less<>>;

/// Every .toml file of the folder. `what` names them in messages: "profiles".
/// Errors: a folder that is not there or holds none, a file that cannot be read.
[[nodiscard]] Result<ProfileTexts> load_profile_texts(const std::string& folder, std::string_view what);

[[nodiscard]] Result<ProfileText> read_profile_text(const std::string& path);

/// The ids, for messages; they live as long as the texts.
[[nodiscard]] std::vector<std::string_view> ids_of(const ProfileTexts& texts);

}  // namespace strikebed::nursery
