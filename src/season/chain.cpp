#include "season/chain.hpp"

#include <algorithm>
#include <cmath>

#include "growth/stages.hpp"

namespace strikebed::season {
namespace {

/// Tries after which two thirds of a Beta belief's variance are gone on average: prior weight x 2, and within reason.
int telling_tries(const evidence::Beta& beta) {
  return std::clamp(static_cast<int>(std::lround(2 * (beta.a + beta.b) / 5) * 5), 20, 400);
}

bool same_belief(const RateBelief& a, const RateBelief& b) {
  if (a.belief.index() != b.belief.index() || a.batch_spread != b.batch_spread) return false;
  if (const auto* known = std::get_if<Known>(&a.belief)) return known->share == std::get<Known>(b.belief).share;
  if (const auto* tested = std::get_if<Tested>(&a.belief)) {
    const auto& other = std::get<Tested>(b.belief);
    return tested->good == other.good && tested->of == other.of;
  }
  const auto& x = std::get<Ranged>(a.belief);
  const auto& y = std::get<Ranged>(b.belief);
  return x.low == y.low && x.high == y.high && x.about == y.about;
}

}  // namespace

ChainRate Chain::rate(ChainQuantity quantity, const RateBelief& belief, bool once_a_season,
                      std::optional<std::size_t> want) {
  ChainRate made{evidence::RateCurve(belief), belief.batch_spread.value_or(0), kFixed, kFixed};
  if (!made.curve.known()) {
    made.dimension = dimensions++;
    const evidence::Beta beta = evidence::beta_of(belief).value();
    uncertain.push_back({quantity, want, telling_tries(beta), beta.quantile(0.05), beta.quantile(0.5),
                         beta.quantile(0.95), made.dimension, false});
  }
  if (once_a_season && made.batch_spread > 0) made.batch_dimension = dimensions++;
  return made;
}

ChainTiming Chain::timing(ChainQuantity quantity, const ProfileValue& value, double factor) {
  const Quantity& q = value.quantity;
  const double log_sd = q.high > q.low ? (std::log(q.high) - std::log(q.low)) / (2 * kScore95) : 0;
  ChainTiming made{std::log(q.value * factor), log_sd, kFixed};
  if (log_sd > 0) {
    made.dimension = dimensions++;
    uncertain.push_back({quantity, {}, 0, q.low * factor, q.value * factor, q.high * factor, made.dimension, true});
  }
  return made;
}

Chain::Chain(const Goal& goal)
    : germination(rate(ChainQuantity::germination, goal.rates.germination, true)),
      standing(rate(ChainQuantity::standing, goal.rates.standing, true)),
      usable(rate(ChainQuantity::usable, goal.rates.usable, false)),
      weaning(rate(ChainQuantity::weaning, goal.rates.weaning, false)),
      winter(rate(ChainQuantity::winter, goal.rates.winter, true)),
      germination_time(timing(ChainQuantity::germination_time, goal.species.germination_time,
                              growth::chilling_factor(goal.chill_days, goal.species.chill_days.typical(),
                                                      goal.species.unchilled_time_factor.typical()))),
      germination_spread(timing(ChainQuantity::germination_spread, goal.species.germination_spread,
                                growth::chilling_factor(goal.chill_days, goal.species.chill_days.typical(),
                                                        goal.species.unchilled_spread_factor.typical()))),
      cover_time(timing(ChainQuantity::cover_time, goal.species.cover_time)),
      ripening_time(timing(ChainQuantity::ripening_time, goal.species.ripening_time)),
      ripening_spread(timing(ChainQuantity::ripening_spread, goal.species.ripening_spread)),
      window_ratio(
          timing(ChainQuantity::window_end, goal.species.window_end_time, 1 / goal.species.ripening_time.typical())),
      edge_odds(timing(ChainQuantity::edge_odds, goal.species.edge_odds)),
      rooting_time(timing(ChainQuantity::rooting_time, goal.species.rooting_time)),
      rooting_spread(timing(ChainQuantity::rooting_spread, goal.species.rooting_spread)),
      weaning_days(timing(ChainQuantity::weaning_days, goal.species.weaning_days)) {
  // What comes after the plants are counted is not asked about.
  std::erase_if(uncertain, [&](const UncertainQuantity& one) {
    const bool after_rooting = one.quantity == ChainQuantity::weaning || one.quantity == ChainQuantity::weaning_days;
    return (after_rooting && goal.count_at == CountAt::rooted) ||
           (one.quantity == ChainQuantity::winter && goal.count_at != CountAt::established);
  });
  // The ratio of the window's end to its start is a plain number to the engine, a thermal time to the grower.
  for (UncertainQuantity& one : uncertain) {
    if (one.quantity != ChainQuantity::window_end) continue;
    const Quantity& q = goal.species.window_end_time.quantity;
    one.low = q.low;
    one.typical = q.value;
    one.high = q.high;
  }
  const auto per_want = [&](std::vector<ChainRate>& made, ChainQuantity quantity, RateBelief Want::* belief) {
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      std::size_t first = 0;  // the first want with this belief
      while (!same_belief(goal.wants[first].*belief, goal.wants[w].*belief)) ++first;
      const auto alike = std::ranges::count_if(
          goal.wants, [&](const Want& other) { return same_belief(goal.wants[w].*belief, other.*belief); });
      const bool its_own = alike == 1 && goal.wants.size() > 1;
      const bool once = quantity == ChainQuantity::grade;
      if (first == w) {
        made.push_back(
            rate(quantity, goal.wants[w].*belief, once, its_own ? std::optional<std::size_t>(w) : std::nullopt));
      } else {
        ChainRate shared = made[first];
        if (once && shared.batch_spread > 0) shared.batch_dimension = dimensions++;
        made.push_back(shared);
      }
    }
  };
  per_want(take, ChainQuantity::take, &Want::take);
  per_want(grade, ChainQuantity::grade, &Want::grade);
}

}  // namespace strikebed::season
