#include "tests/nursery/shipped.hpp"

#include <nlohmann/json.hpp>

#include "browser/carried.hpp"
#include "tests/file_text.hpp"

namespace strikebed::nursery {

const Library& shipped_library() {
  static const Library library = [] {
    Library carried = browser::carried_library();
    carried.time_zones = {"America/Los_Angeles", "Asia/Tokyo", "Europe/Berlin", "UTC"};  // as a page hands them in
    return carried;
  }();
  return library;
}

const CheckFiles& published_checks() {
  static const Texts given = [] {
    Texts texts;
    const auto request = nlohmann::ordered_json::parse(file_text(CHECKS_REQUEST), nullptr, false);
    for (const auto& [path, text] : request["files"].items()) texts[path] = {path, text.get<std::string>()};
    return texts;
  }();
  static const CheckFiles files = [] {
    CheckFiles made{.topics = {}, .beside = [](const std::string& path) -> Result<Text> {
                      const auto found = given.find(path);
                      if (found != given.end()) return found->second;
                      return Error{.problem = "there is no such file", .file = path};
                    }};
    for (const auto& [path, text] : given) {
      if (path.ends_with(".json")) made.topics[id_of_file(path)] = text;
    }
    return made;
  }();
  return files;
}

}  // namespace strikebed::nursery
