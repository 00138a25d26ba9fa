#include "browser/carried.hpp"

#include <array>
#include <string>
#include <string_view>

namespace strikebed::browser {
namespace {

struct CarriedText {
  std::string_view path;  ///< in the source tree
  std::string_view text;
};

constexpr std::array kCarried = std::to_array<CarriedText>({
#include "browser/carried_texts.inc"
});

/// The profiles of a folder, by file name.
nursery::Texts texts_in(std::string_view folder) {
  nursery::Texts texts;
  for (const auto& [path, text] : kCarried) {
    if (path.starts_with(folder)) texts[nursery::id_of_file(path)] = {std::string(path), std::string(text)};
  }
  return texts;
}

}  // namespace

nursery::Library carried_library() {
  nursery::Library library;
  library.species = texts_in("profiles/species/");
  library.methods = texts_in("profiles/methods/");
  library.materials = texts_in("profiles/materials/");
  library.feed = texts_in("profiles/feed/");
  return library;
}

}  // namespace strikebed::browser
