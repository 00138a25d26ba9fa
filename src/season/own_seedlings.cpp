#include "season/own_seedlings.hpp"

#include <algorithm>
#include <optional>
#include <utility>

namespace strikebed::season {
namespace {

/// How many of a sowing were ever seen up, and by the morning of which day; nothing: they were never all counted.
struct Up {
  int number = 0;
  int by = 0;  ///< day
};
std::optional<Up> seen_up(const SeenSowing& sowing, int seeds, const ThermalSums& sums) {
  std::optional<Up> up;
  const auto at_least = [&](int number, Date on) {
    if (!up || number >= up->number) up = Up{std::clamp(number, 0, seeds), sums.day(on)};
  };
  for (const SeenCount& look : sowing.emerged) {
    if (look.is_of_all(seeds)) at_least(look.good, look.on);
  }
  int gone = 0;
  for (const TrayLook& look : sowing.tray) {
    gone += look.lost;
    if (!up || look.standing + gone > up->number) at_least(look.standing + gone, look.on);
    gone += look.taken;
  }
  return up;
}

}  // namespace

std::vector<OwnSeedlings> own_seedlings(const Goal& goal, const ThermalSums& sums, const Observed& seen) {
  std::vector<OwnSeedlings> own;
  for (std::size_t i = 0; i < goal.sown.size(); ++i) {
    const int seeds = goal.sown[i].seeds;
    const std::optional<Up> up = i < seen.sowings.size() ? seen_up(seen.sowings[i], seeds, sums) : std::nullopt;
    if (!up) {
      own.push_back({i, seeds, {}});
      continue;
    }
    SeedlingsSeen standing;
    standing.up = true;
    standing.as_of = up->by;
    standing.up_by = up->by;
    standing.loss_half_age_days = goal.species.loss_half_age_days.typical();
    TraySeen tray;
    int number = up->number;
    for (const TrayLook& look : seen.sowings[i].tray) {
      number -= look.lost + look.taken;
      standing.as_of = std::max(standing.as_of, sums.day(look.on));
      const bool signs = look.signs != evidence::SignCounts{};
      if (look.taken == 0 && !signs) continue;
      const auto cut = look.shares_taken();
      if (signs) {
        tray.counted_at = tray.looks.size();
        tray.left = std::max(look.standing - look.taken, 0);
        for (std::size_t sign = 0; sign < cut.size(); ++sign)
          tray.read_and_left[sign] = look.signs[sign] * (1 - cut[sign]);
      }
      tray.looks.push_back({sums.day(look.on), cut});
    }
    if (!tray.looks.empty()) standing.tray = std::move(tray);
    if (number > 0) own.push_back({i, number, std::move(standing)});
    SeedlingsSeen waiting;
    waiting.as_of = up->by;
    if (seeds > up->number) own.push_back({i, seeds - up->number, std::move(waiting)});
  }
  return own;
}

}  // namespace strikebed::season
