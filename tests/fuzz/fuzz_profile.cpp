// Any bytes as a species profile, as the grower's own profile and as a method: each that is read goes the whole way, in
// a goal that is planned with it.
#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "host/library.hpp"
#include "nursery/goal/goal_file.hpp"
#include "tests/nursery/small_season.hpp"

namespace {

using namespace strikebed;

const nursery::Library& shipped() {
  static const nursery::Library library = host::load_library_from(SOURCE_DIR "/profiles").value();
  return library;
}

const season::Goal& usual_goal() {
  static const season::Goal goal = [] {
    const nursery::Text text = host::read_text(SOURCE_DIR "/demo/goal.toml").value();
    return nursery::parse_goal(text.text, text.file, make_date(2026, 11, 25), shipped()).value().goal;
  }();
  return goal;
}

void must_have_a_season(const season::Goal& goal) {
  const auto is_chance = [](double chance) { return chance >= 0 && chance <= 1; };
  if (!std::ranges::all_of(nursery::small_season(goal, {70}), is_chance)) std::abort();
}

/// With the rates of the species in place of the goal's own.
void must_make_sense(const growth::Species& species) {
  season::Goal goal = usual_goal();
  goal.species = species;
  for (std::size_t want = 0; want < goal.wants.size(); ++want) {
    for (const growth::RungRow& row : growth::kRungs) {
      belief_of(goal, row.rung, want) = species.rates[row.rung].belief;
    }
  }
  must_have_a_season(goal);
}

void must_make_sense(const growth::Method& method) {
  season::Goal goal = usual_goal();
  goal.wants.front().method = method;
  for (const growth::RungRow& row : growth::kRungs) {
    if (method.rates[row.rung]) belief_of(goal, row.rung, 0) = method.rates[row.rung]->belief;
  }
  must_have_a_season(goal);
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  if (const auto species = nursery::read_species(text, "a.toml")) must_make_sense(*species);
  if (const auto own = nursery::read_own_profile(text, "a.toml", usual_goal().species)) must_make_sense(*own);
  if (const auto method = nursery::read_method(text, "a.toml", shipped())) must_make_sense(*method);
  return 0;
}
