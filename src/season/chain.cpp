#include "season/chain.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "growth/hardiness.hpp"
#include "growth/stages.hpp"

namespace strikebed::season {
namespace {

constexpr float kSmallestWindowRatio = 1.05F;  // a window that closes as it opens is no window

/// Tries after which two thirds of a Beta belief's variance are gone on average: prior weight x 2, and within reason.
int telling_tries(const evidence::Beta& beta) {
  return std::clamp(static_cast<int>(std::lround(2 * (beta.a + beta.b) / 5) * 5), 20, 400);
}

ChainRate rate(const RateBelief& belief, Rung rung, std::uint64_t owner = 0) {
  const ChainQuantity quantity = quantity_of(rung);
  return {evidence::RateCurve(belief),
          belief.batch_spread.value_or(0),
          {.quantity = quantity, .owner = owner},
          {.quantity = quantity, .of_batch = true}};
}

/// A rate that may be the method's own; its batches always are.
ChainRate rate_of_want(const Want& want, const RateBelief& belief, bool own, Rung rung) {
  const std::uint64_t method = name_bits(want.method.id);
  ChainRate made = rate(belief, rung, own ? method : 0);
  made.batch.owner = method;
  return made;
}

/// The germination of a lot. Its batches are those of the bed on a day, whatever is sown into it.
ChainRate rate_of_lot(const Lot& lot, const RateBelief& belief) {
  return rate(belief, Rung::germination, lot.name.empty() ? 0 : name_bits(lot.name));
}

ChainTiming timing(const ProfileValue& value, ChainQuantity quantity, double factor = 1) {
  const Quantity& q = value.quantity;
  return {std::log(q.value * factor), log_sd_of(q), {.quantity = quantity}};
}

/// A share lost in a week, as the hazard of a day.
ChainTiming weekly_loss(const ProfileValue& value, ChainQuantity quantity) {
  static constexpr double kLeast = 1e-6;  // a week: as good as none, and has a logarithm
  const auto hazard = [](double share) { return growth::idle_hazard(std::max(share, kLeast)); };
  const Quantity& q = value.quantity;
  return {
      std::log(hazard(q.value)), log_sd_of({hazard(q.value), hazard(q.low), hazard(q.high)}), {.quantity = quantity}};
}

/// A temperature that half live through, believed normal, as the scale of the frost's hazard.
ChainTiming frost(const ProfileValue& value, ChainQuantity quantity) {
  const Quantity& q = value.quantity;
  const double range = growth::log_frost_scale(q.high) - growth::log_frost_scale(q.low);
  return {growth::log_frost_scale(q.value), range / (2 * kScore95), {.quantity = quantity}};
}

/// Collects what is not known.
struct Uncertain {
  std::vector<UncertainQuantity>& all;

  void add(const ChainRate& rate, const RateBelief& belief, std::optional<std::size_t> want = {},
           std::string lot = {}) {
    if (rate.curve.known()) return;
    const evidence::Beta beta = evidence::beta_of(belief).value();
    all.push_back({rate.draw, want, std::move(lot), beta.quantile(0.05), beta.quantile(0.5), beta.quantile(0.95),
                   telling_tries(beta)});
  }
  [[nodiscard]] bool has(const DrawName& draw) const {
    return std::ranges::find(all, draw, &UncertainQuantity::draw) != all.end();
  }
  void add(const ChainTiming& timing, const ProfileValue& value, double factor = 1) {
    if (timing.log_sd == 0) return;
    const auto& q = value.quantity;
    all.push_back({timing.draw, {}, {}, q.low * factor, q.value * factor, q.high * factor});
  }
};

}  // namespace

Chain::Chain(const Goal& goal) {
  add_shared_rates(goal);
  add_timings(goal);
  add_rates_of_wants(goal, Rung::take, &Want::take, &Want::own_take);
  add_rates_of_wants(goal, Rung::grade, &Want::grade, &Want::own_grade);
}

void Chain::add_shared_rates(const Goal& goal) {
  Uncertain not_known{uncertain};
  for (const growth::RungRow& row : growth::kRungs) {
    if (row.is_of_method()) continue;
    if (row.rung == Rung::germination) {
      add_lots(goal);
      continue;
    }
    const RateBelief& belief = goal.rates[row.rung];
    rates[row.rung].push_back(rate(belief, row.rung));
    // What comes after the plants are counted is not asked about.
    if (goal.matters(row.rung)) not_known.add(shared(row.rung), belief);
  }
}

void Chain::add_timings(const Goal& goal) {
  const growth::Species& species = goal.species;
  Uncertain not_known{uncertain};
  const auto asked = [&](const ChainTiming& made, const ProfileValue& value, double factor = 1) {
    not_known.add(made, value, factor);
    return made;
  };
  const auto time = [&](const ProfileValue& value, ChainQuantity quantity, double factor = 1) {
    return asked(timing(value, quantity, factor), value, factor);
  };
  const auto unchilled = [&](const Lot& lot, const ProfileValue& factor) {
    return growth::chilling_factor(lot.chill_days, goal.full_chilling(lot), factor.typical());
  };
  const double slower = unchilled(goal.lot, species.unchilled_time_factor);
  const double wider = unchilled(goal.lot, species.unchilled_spread_factor);
  slowing.push_back({});
  for (const Sown& sown : goal.sown) {
    slowing.push_back({static_cast<float>(std::log(unchilled(sown.lot, species.unchilled_time_factor) / slower)),
                       static_cast<float>(unchilled(sown.lot, species.unchilled_spread_factor) / wider)});
  }
  germination_time = time(species.germination_time, ChainQuantity::germination_time, slower);
  germination_spread = time(species.germination_spread, ChainQuantity::germination_spread, wider);
  cover_time = time(species.cover_time, ChainQuantity::cover_time);
  ripening_time = time(species.ripening_time, ChainQuantity::ripening_time);
  ripening_spread = time(species.ripening_spread, ChainQuantity::ripening_spread);
  // The end of the window is a plain ratio to its start for the engine, a thermal time for the grower.
  window_end = time(species.window_end_time, ChainQuantity::window_end);
  edge_odds = time(species.edge_odds, ChainQuantity::edge_odds);
  rooting_time = time(species.rooting_time, ChainQuantity::rooting_time);
  rooting_spread = time(species.rooting_spread, ChainQuantity::rooting_spread);
  weaning_days = timing(species.weaning_days, ChainQuantity::weaning_days);
  if (goal.reaches(Rung::weaning)) asked(weaning_days, species.weaning_days);
  cold_seed_loss = asked(weekly_loss(species.cold_seed_loss, ChainQuantity::cold_seed_loss), species.cold_seed_loss);
  idle_loss = asked(weekly_loss(species.idle_loss, ChainQuantity::idle_loss), species.idle_loss);
  seedling_frost = asked(frost(species.seedling_frost_c, ChainQuantity::seedling_frost), species.seedling_frost_c);
  failure_half_life = timing(species.failure_half_life_days, ChainQuantity::failure_half_life);
  cutting_frost = asked(frost(species.cutting_frost_c, ChainQuantity::cutting_frost), species.cutting_frost_c);
}

void Chain::add_rates_of_wants(const Goal& goal, Rung rung, RateBelief Want::* belief, bool Want::* own) {
  Uncertain not_known{uncertain};
  std::vector<ChainRate>& made = rates[rung];
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    const Want& want = goal.wants[w];
    made.push_back(rate_of_want(want, want.*belief, want.*own, rung));
    if (not_known.has(made.back().draw)) continue;
    const bool shared = !(want.*own) && std::ranges::count(goal.wants, false, own) > 1;
    const bool apart = goal.wants.size() > 1 && !shared;
    not_known.add(made.back(), want.*belief, apart ? std::optional(w) : std::nullopt);
  }
}

void Chain::add_lots(const Goal& goal) {
  std::vector<ChainRate>& made = rates[Rung::germination];
  made.push_back(rate_of_lot(goal.lot, goal.rates[Rung::germination]));
  for (const Sown& sown : goal.sown) made.push_back(rate_of_lot(sown.lot, sown.germination));
  const bool several = std::ranges::any_of(made, [&](const ChainRate& one) { return one.draw != made.front().draw; });
  Uncertain not_known{uncertain};
  for (std::size_t i = 0; i < made.size(); ++i) {
    if (not_known.has(made[i].draw)) continue;
    const std::string& name = i == 0 ? goal.lot.name : goal.sown[i - 1].lot.name;
    not_known.add(made[i], i == 0 ? goal.rates[Rung::germination] : goal.sown[i - 1].germination, {},
                  several ? name : std::string());
  }
}

DrawName batch_of_day(const ChainRate& rate, Date day) {
  DrawName name = rate.batch;
  name.day = day;
  return name;
}

DrawName batch_of_sowing(const ChainRate& rate, std::size_t seed, Date day) {
  DrawName name = batch_of_day(rate, day);
  if (seed > 0) name.owner = kOwnSowing;
  return name;
}

Timing slowed(Timing timing, const Slowing& slowing) {
  timing.germination_log_median += slowing.log_time;
  timing.germination_spread *= slowing.spread;
  return timing;
}

std::vector<double> rates_of(const ChainRate& rate, const DrawName& batch, const Futures& futures) {
  const Scores scores = futures.scores(rate.draw);
  const Scores effects = rate.batch_spread == 0 ? scores : futures.scores(batch);
  std::vector<double> rates(static_cast<std::size_t>(futures.count()));
  for (std::size_t f = 0; f < rates.size(); ++f) {
    rates[f] = rate.of_batch(static_cast<double>((*scores)[f]), static_cast<double>((*effects)[f]));
  }
  return rates;
}

int rooted_by_day(const Goal& goal, const ThermalSums& sums, const Timing& timing, int struck) {
  int last = static_cast<int>((goal.ready_by() - sums.first).count());
  if (goal.reaches(Rung::weaning)) last -= static_cast<int>(std::lround(timing.weaning_days));
  last = std::clamp(last, 0, sums.days);
  return std::max(struck, std::min(last, struck + goal.species.unrooted_life()));
}

std::vector<Timing> timings_of(const Chain& chain, const Futures& futures) {
  const auto log_draws = [&](const ChainTiming& timing) {
    std::vector<float> logs(static_cast<std::size_t>(futures.count()), static_cast<float>(timing.log_median));
    if (timing.log_sd == 0) return logs;
    const Scores scores = futures.scores(timing.draw);
    for (std::size_t f = 0; f < logs.size(); ++f) {
      logs[f] = static_cast<float>(timing.log_median + timing.log_sd * static_cast<double>((*scores)[f]));
    }
    return logs;
  };
  const std::vector<float> germination_time = log_draws(chain.germination_time);
  const std::vector<float> germination_spread = log_draws(chain.germination_spread);
  const std::vector<float> cover_time = log_draws(chain.cover_time);
  const std::vector<float> ripening_time = log_draws(chain.ripening_time);
  const std::vector<float> ripening_spread = log_draws(chain.ripening_spread);
  const std::vector<float> window_end = log_draws(chain.window_end);
  const std::vector<float> edge_odds = log_draws(chain.edge_odds);
  const std::vector<float> rooting_time = log_draws(chain.rooting_time);
  const std::vector<float> rooting_spread = log_draws(chain.rooting_spread);
  const std::vector<float> weaning_days = log_draws(chain.weaning_days);
  const std::vector<float> cold_seed_loss = log_draws(chain.cold_seed_loss);
  const std::vector<float> idle_loss = log_draws(chain.idle_loss);
  const std::vector<float> seedling_frost = log_draws(chain.seedling_frost);
  const std::vector<float> cutting_frost = log_draws(chain.cutting_frost);
  std::vector<Timing> timings(static_cast<std::size_t>(futures.count()));
  for (std::size_t f = 0; f < timings.size(); ++f) {
    timings[f] = {.germination_log_median = germination_time[f],
                  .germination_spread = std::exp(germination_spread[f]),
                  .cover_time = std::exp(cover_time[f]),
                  .ripening_log_median = ripening_time[f],
                  .ripening_spread = std::exp(ripening_spread[f]),
                  .window_ratio = std::max(std::exp(window_end[f] - ripening_time[f]), kSmallestWindowRatio),
                  .edge_log_odds = std::min(edge_odds[f], 0.0F),
                  .rooting_log_median = rooting_time[f],
                  .rooting_spread = std::exp(rooting_spread[f]),
                  .weaning_days = std::exp(weaning_days[f]),
                  .seeds = {.idle = std::exp(cold_seed_loss[f])},
                  .seedlings = {.idle = std::exp(idle_loss[f]), .frost = std::exp(seedling_frost[f])},
                  .cuttings = {.idle = std::exp(idle_loss[f]), .frost = std::exp(cutting_frost[f])}};
  }
  return timings;
}

}  // namespace strikebed::season
