#include "season/setting.hpp"

#include <algorithm>
#include <array>
#include <utility>

namespace strikebed::season {
namespace {

constexpr std::array kTimings{&Chain::germination_time, &Chain::germination_spread, &Chain::cover_time,
                              &Chain::ripening_time,    &Chain::ripening_spread,    &Chain::window_end,
                              &Chain::edge_odds,        &Chain::rooting_time,       &Chain::rooting_spread,
                              &Chain::weaning_days,     &Chain::cold_seed_loss,     &Chain::idle_loss,
                              &Chain::seedling_frost,   &Chain::cutting_frost,      &Chain::failure_half_life};

bool same(const ChainTiming& a, const ChainTiming& b) { return a.log_median == b.log_median && a.log_sd == b.log_sd; }

bool same_timing(const Setting& a, const Setting& b) {
  const auto same_here = [&](auto timing) {
    const ChainTiming& one = (*a.chain).*timing;
    return !moves_seedlings(one.draw.quantity) || same(one, (*b.chain).*timing);
  };
  return std::ranges::all_of(kTimings, same_here) && a.chain->slowing == b.chain->slowing && a.sums == b.sums &&
         a.sessions.day == b.sessions.day && a.sessions.strike_from == b.sessions.strike_from;
}

bool same_wants(const Goal& a, const Goal& b) {
  if (a.wants.size() != b.wants.size()) return false;
  for (std::size_t w = 0; w < a.wants.size(); ++w) {
    const Want& x = a.wants[w];
    const Want& y = b.wants[w];
    if (x.method.id != y.method.id || x.take != y.take || x.grade != y.grade || x.own_take != y.own_take ||
        x.own_grade != y.own_grade) {
      return false;
    }
  }
  return true;
}

/// The same is believed of the same lots, in the same order.
bool same_seed(const Goal& a, const Goal& b) {
  return a.lot.name == b.lot.name && std::ranges::equal(a.sown, b.sown, [](const Sown& x, const Sown& y) {
           return x.lot.name == y.lot.name && x.germination == y.germination;
         });
}

bool same_rates(const Setting& a, const Setting& b) {
  const auto same_here = [&](auto timing) { return same((*a.chain).*timing, (*b.chain).*timing); };
  const Goal& x = a.goal;
  const Goal& y = b.goal;
  return std::ranges::all_of(kTimings, same_here) && same_beliefs(x, y) && x.by == y.by && x.count_at == y.count_at &&
         x.winter_starts == y.winter_starts && x.winter_ends == y.winter_ends && x.controls == y.controls &&
         x.lifted == y.lifted && x.species.unrooted_life() == y.species.unrooted_life();
}

}  // namespace

Setting setting_of(Goal goal, std::shared_ptr<const ThermalSums> sums, const BenchHabit& habit) {
  auto chain = std::make_shared<const Chain>(goal);
  SessionDays sessions = session_days(goal, *sums, habit);
  std::vector<OwnSeedlings> own;
  for (std::size_t i = 0; i < goal.sown.size(); ++i) own.push_back({i, goal.sown[i].seeds, {}});
  return {std::move(goal), std::move(chain), std::move(sums), std::move(sessions), habit, std::move(own)};
}

bool same_beliefs(const Goal& a, const Goal& b) { return a.rates == b.rates && same_seed(a, b) && same_wants(a, b); }

bool same_warmth(const Goal& a, const Goal& b) {
  constexpr std::array kTemperatures{&growth::Species::germination_temperature, &growth::Species::ripening_temperature,
                                     &growth::Species::rooting_temperature};
  for (const auto temperature : kTemperatures) {
    if (a.species.*temperature != b.species.*temperature) return false;
  }
  const auto day_lengths = [](const Goal& goal) {
    return std::pair(goal.species.standstill_day_h.typical(), goal.species.shortest_day_h.typical());
  };
  return a.seedbed == b.seedbed && a.seedbed_lit == b.seedbed_lit && a.bench == b.bench &&
         a.site.latitude_deg == b.site.latitude_deg && day_lengths(a) == day_lengths(b);
}

SettingChange change_between(const Setting& before, const Setting& after) {
  if (!same_timing(before, after)) return SettingChange::timing;
  return same_rates(before, after) ? SettingChange::wanted : SettingChange::rates;
}

bool leaves_what_is_in_pots(const Setting& before, const Setting& after) {
  return before.sums == after.sums && same_rates(before, after);
}

}  // namespace strikebed::season
