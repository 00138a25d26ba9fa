// The species, the grower's own profile of it, and the lot of seed.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <cmath>

#include "nursery/goal/reading.hpp"

namespace strikebed::nursery {

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
        goal.species = std::move(own->species);
        std::set<std::string, std::less<>> set = own->fields;
        for (const growth::Rung rung : own->rates) set.emplace(name_of(rung));
        reading.assume(fmt::format("Your own profile {} sets {}.", *path, fmt::join(set, ", ")));
        reading.own_rates = std::move(own->rates);
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
    reading.assume(fmt::format("{} days of cold, moist chilling before sowing: the profile of {} for stored seed.",
                               full_chill, goal.species.name));
  }
  if (!goal.seeds_per_gram_of_lot) {
    reading.assume(fmt::format("{:.4g} seeds in a gram: the profile of {}.", goal.species.seeds_per_gram.typical(),
                               goal.species.name));
  }
}

}  // namespace strikebed::nursery
