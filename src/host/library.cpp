#include "host/library.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <string_view>
#include <system_error>
#include <utility>

#include "host/this_machine.hpp"
#include "host/time_zones.hpp"
#include "nursery/read_weather.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::host {
namespace {

namespace fs = std::filesystem;
using nursery::Library;
using nursery::Text;
using nursery::Texts;

constexpr std::string_view kToml = ".toml";

/// The files of a folder with this ending, by name without it. `what` names them in messages.
Result<Texts> load_folder(const std::string& folder, std::string_view ending, std::string_view what) {
  Texts texts;
  std::error_code failed;
  for (fs::directory_iterator file(folder, failed), end; !failed && file != end; file.increment(failed)) {
    if (file->path().extension() != ending) continue;
    Result<Text> text = read_text(file->path().string(), nursery::kLargestTomlFile);
    if (!text) return text.error();
    texts[file->path().stem().string()] = std::move(*text);
  }
  if (!texts.empty()) return texts;
  return Error{.problem = fmt::format("no {} found in this folder", what),
               .allowed = fmt::format("the folder of shipped {}", what),
               .file = folder};
}

}  // namespace

std::string profiles_folder() { return environment("STRIKEBED_PROFILES").value_or(STRIKEBED_SHARE_DIR "/profiles"); }

std::string page_folder() { return environment("STRIKEBED_PAGE").value_or(STRIKEBED_SHARE_DIR "/web/dist"); }

std::string checks_folder() { return STRIKEBED_SHARE_DIR "/tests/reference"; }

Result<Text> read_text(const std::string& path, std::size_t at_most_bytes) {
  Result<std::string> text = read_file(path, at_most_bytes);
  if (!text) return text.error();
  return Text{path, std::move(*text)};
}

Result<Text> read_weather_text(const std::string& path) {
  Result<std::string> text = read_file(path, kLargestFileBytes, nursery::why_not_weather);
  if (!text) return text.error();
  return Text{path, std::move(*text)};
}

nursery::ReadText files_beside(const std::string& file) {
  return [folder = fs::path(file).parent_path()](const std::string& path) {
    const std::string whole = (folder / path).string();
    return path.ends_with(kToml) ? read_text(whole, nursery::kLargestTomlFile) : read_weather_text(whole);
  };
}

Result<Library> load_library_from(const std::string& profiles, const std::string& goal_file) {
  struct Folder {
    const char* name;
    Texts Library::* place;
    const char* what;
  };
  constexpr Folder kFolders[] = {{"species", &Library::species, "profiles"},
                                 {"methods", &Library::methods, "profiles"},
                                 {"materials", &Library::materials, "materials"},
                                 {"feed", &Library::feed, "phases of feeding"}};
  Library library;
  for (const Folder& folder : kFolders) {
    Result<Texts> texts = load_folder(fmt::format("{}/{}", profiles, folder.name), kToml, folder.what);
    if (!texts) return texts.error();
    library.*folder.place = std::move(*texts);
  }
  library.own_file = files_beside(goal_file);
  library.time_zones = time_zone_names();
  return library;
}

Result<Library> load_library(const std::string& goal_file) { return load_library_from(profiles_folder(), goal_file); }

Result<nursery::CheckFiles> load_checks(const std::string& folder) {
  auto topics = load_folder(folder, ".json", "published checks");
  if (!topics) return topics.error();
  return nursery::CheckFiles{std::move(*topics), files_beside(folder + "/")};
}

}  // namespace strikebed::host
