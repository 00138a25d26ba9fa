// Any bytes as a species profile, as the grower's own profile and as a method.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "host/library.hpp"
#include "nursery/profiles/profile_file.hpp"

namespace {

using namespace strikebed;

const nursery::Library& shipped() {
  static const nursery::Library library = [] {
    auto loaded = host::load_library_from(SOURCE_DIR "/profiles");
    if (!loaded) std::abort();
    return *loaded;
  }();
  return library;
}

const growth::Species& black_pine() {
  static const growth::Species species = [] {
    const nursery::Text& text = shipped().species.find("pinus-thunbergii")->second;
    auto read = nursery::read_species(text.text, text.file);
    if (!read) std::abort();
    return *read;
  }();
  return species;
}

void must_make_sense(const growth::Species& species) {
  const growth::Cardinal& c = species.germination_temperature;
  if (!(c.base_c < c.optimum_c && c.optimum_c < c.ceiling_c)) std::abort();
  if (!(species.ripening_time.typical() > 0 && species.ripening_time.typical() < species.window_end_time.typical()))
    std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto species = nursery::read_species(text, "a.toml")) must_make_sense(*species);
  if (const auto own = nursery::read_own_profile(text, "a.toml", black_pine())) must_make_sense(own->species);
  const auto method = nursery::read_method(text, "a.toml", shipped());
  if (method && !(method->group.typical() >= 1 && method->cutting_seconds.typical() > 0)) std::abort();
  return 0;
}
