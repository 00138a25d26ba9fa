// The species, the grower's own profile of it, and the lot of seed.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

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

void read_species_and_lot(Reading& reading) {
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
  const auto lot = root.table("lot");
  const bool fresh = lot && lot->yes_no("fresh").value_or(false);
  std::optional<int> chill_days;
  const NumberRange seeds_per_gram{.low = 0.1, .high = 100'000, .of_what = "seeds in a gram"};
  if (lot) {
    chill_days = lot->whole("chill_days", 0, 365);
    goal.seeds_per_gram_of_lot = lot->number("seeds_per_gram", seeds_per_gram);
  }
  const int full_chill = static_cast<int>(std::lround(goal.species.chill_days.typical()));
  if (fresh) goal.species.chill_days.quantity = {0, 0, 0};  // fresh seed is not slowed for want of chilling
  goal.chill_days = chill_days.value_or(fresh ? 0 : full_chill);
  if (fresh && !chill_days) reading.assume("No chilling before sowing: the lot is fresh.");
  if (!fresh && !chill_days) {
    reading.assume(fmt::format("{} days of cold, moist chilling before sowing: {} for stored seed.", full_chill,
                               from_profile(goal.species, "chill_days")));
  }
  if (!goal.seeds_per_gram_of_lot) {
    reading.assume(fmt::format("{:.4g} seeds in a gram: {}.", goal.species.seeds_per_gram.typical(),
                               from_profile(goal.species, "seeds_per_gram")));
  }
}

}  // namespace strikebed::nursery
