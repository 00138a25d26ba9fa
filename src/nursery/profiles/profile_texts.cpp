#include "nursery/profiles/profile_texts.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "nursery/files.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {

Result<ProfileTexts> load_profile_texts(const std::string& folder, std::string_view what) {
  ProfileTexts texts;
  std::error_code failed;
  for (std::filesystem::directory_iterator file(folder, failed), end; !failed && file != end; file.increment(failed)) {
    if (file->path().extension() != ".toml") continue;
    Result<ProfileText> text = read_profile_text(file->path().string());
    if (!text) return text.error();
    texts[file->path().stem().string()] = std::move(*text);
  }
  if (!texts.empty()) return texts;
  return Error{.problem = fmt::format("no {} found in this folder", what),
               .allowed = fmt::format("the folder of shipped {}", what),
               .file = folder};
}

Result<ProfileText> read_profile_text(const std::string& path) {
  Result<std::string> text = read_file(path, kLargestTomlFile);
  if (!text) return text.error();
  return ProfileText{path, std::move(*text)};
}

std::vector<std::string_view> ids_of(const ProfileTexts& texts) {
  std::vector<std::string_view> ids;
  ids.reserve(texts.size());
  for (const auto& [id, text] : texts) ids.push_back(id);
  return ids;
}

}  // namespace strikebed::nursery
