#include "tests/nursery/shipped.hpp"

#include "host/library.hpp"

namespace strikebed::nursery {

const Library& shipped_library() {
  static const Library library = [] {
    Library loaded = host::load_library_from(SOURCE_DIR "/profiles").value();
    loaded.own_file = nullptr;
    return loaded;
  }();
  return library;
}

const CheckFiles& published_checks() {
  static const CheckFiles files = host::load_checks(SOURCE_DIR "/tests/reference").value();
  return files;
}

}  // namespace strikebed::nursery
