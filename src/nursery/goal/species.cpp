// The species, and the grower's own profile of it.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {
namespace {

/// Which values come from which of the two profiles.
void say_own_profile(Reading& reading, const std::string& path) {
  const growth::Species& species = reading.goal().species;
  const growth::OwnOver& own = *species.own;
  const std::string named = species.name == own.shipped_name ? "" : fmt::format(" ({})", species.name);
  reading.assume(
      fmt::format("Your own profile {}{} sets {}; every other value of the species is the profile's of {} ({}).", path,
                  named, own.values.empty() ? "nothing" : fmt::format("{}", fmt::join(own.values, ", ")),
                  own.shipped_name, own.shipped_id));
  if (!own.depth_by_weight) return;
  reading.assume(fmt::format(
      "Sowing depth {:.0f} to {:.0f} mm: that of {}, with the cube root of the seed's weight; your profile sets no "
      "sowing_depth_mm.{}",
      species.sowing_depth_mm.quantity.low, species.sowing_depth_mm.quantity.high, own.shipped_name,
      species.is_own("cover_time") ? "" : " The time through the cover, cover_time, stays that of its own depth."));
}

}  // namespace

std::string from_profile(const growth::Species& species, std::string_view value) {
  return species.is_own(value) ? "your own profile" : "the profile of " + species.shipped_name();
}

void read_species(Reading& reading) {
  const TomlTable& root = reading.root;
  season::Goal& goal = reading.goal();
  const std::vector<std::string_view> ids = ids_of(reading.library.species);
  root.needs("species", listed(ids));
  bool known = false;
  if (const auto id = root.one_of("species", ids)) {
    const Text& shipped = reading.library.species.find(*id)->second;
    if (auto species = reading.keep(read_species(shipped.text, shipped.file))) {
      goal.species = std::move(*species);
      known = true;
    }
  }
  if (const auto path = root.text("profile", "the name of your own profile, such as \"my-pines.toml\"")) {
    if (const auto text = reading.own_file(root, "profile", *path); text && known) {
      if (auto own = reading.keep(read_own_profile(text->text, text->file, goal.species))) {
        goal.species = std::move(*own);
        say_own_profile(reading, *path);
      }
    }
  }
}

}  // namespace strikebed::nursery
