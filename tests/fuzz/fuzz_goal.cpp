// Any bytes as a goal file, with the shipped profiles; files that the goal names hold the same bytes. A goal that is
// read goes the whole way: it holds what season relies on, and its chances are chances.
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
  static const nursery::Library library = [] {
    auto loaded = host::load_library_from(SOURCE_DIR "/profiles");
    if (!loaded) std::abort();
    return *loaded;
  }();
  return library;
}

bool is_share(const RateBelief& rate) {
  if (!rate.batch_spread || *rate.batch_spread < 0) return false;
  if (const auto* known = std::get_if<Known>(&rate.belief)) return known->share >= 0 && known->share <= 1;
  if (const auto* test = std::get_if<Tested>(&rate.belief)) return test->good >= 0 && test->good <= test->of;
  const auto& range = std::get<Ranged>(rate.belief);
  return range.low > 0 && range.low < range.high && range.high < 1;
}

bool makes_sense(const season::Goal& goal) {
  if (goal.wants.empty() || goal.by <= goal.today || goal.winter_starts <= goal.today) return false;
  if (!(goal.assurance > 0 && goal.assurance < 1) || goal.winter_ends <= goal.winter_starts) return false;
  for (std::size_t want = 0; want < goal.wants.size(); ++want) {
    if (goal.wants[want].count < 1) return false;
    for (const growth::RungRow& row : growth::kRungs) {
      if (!is_share(belief_of(goal, row.rung, want))) return false;
    }
  }
  const auto sown_in_season = [&](const season::Sown& sown) {
    return sown.seeds >= 1 && sown.on < goal.by && sown.lot.chill_days >= 0 && is_share(sown.germination);
  };
  return std::ranges::all_of(goal.sown, sown_in_season) && goal.sessions.cuttings_at_most.value_or(1) >= 1;
}

bool has_a_season(const season::Goal& goal) {
  return std::ranges::all_of(nursery::small_season(goal, {70}),
                             [](double chance) { return chance >= 0 && chance <= 1; });
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  nursery::Library library = shipped();
  library.own_file = [&](const std::string& path) -> Result<nursery::Text> {
    return nursery::Text{path, std::string(text)};
  };
  const auto file = nursery::parse_goal(text, "goal.toml", make_date(2026, 11, 25), library);
  if (file ? !makes_sense(file->goal) || !has_a_season(file->goal) : file.error().message().empty()) std::abort();
  return 0;
}
