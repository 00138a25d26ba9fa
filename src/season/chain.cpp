#include "season/chain.hpp"

#include <fmt/format.h>

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

ChainRate Chain::rate(const RateBelief& belief, const std::string& name, const std::string& test, bool once_a_season) {
  ChainRate made{evidence::RateCurve(belief), belief.batch_spread.value_or(0), kFixed, kFixed};
  if (!made.curve.known()) {
    made.dimension = dimensions++;
    const evidence::Beta beta = evidence::beta_of(belief).value();
    uncertain.push_back({name, "share", fmt::format(fmt::runtime(test), telling_tries(beta)), beta.quantile(0.05),
                         beta.quantile(0.5), beta.quantile(0.95), made.dimension, false});
  }
  if (once_a_season && made.batch_spread > 0) made.batch_dimension = dimensions++;
  return made;
}

ChainTiming Chain::timing(const ProfileValue& value, const std::string& name, const std::string& test, double factor) {
  const Quantity& q = value.quantity;
  const double log_sd = q.high > q.low ? (std::log(q.high) - std::log(q.low)) / (2 * kScore95) : 0;
  ChainTiming made{std::log(q.value * factor), log_sd, kFixed};
  if (log_sd > 0) {
    made.dimension = dimensions++;
    uncertain.push_back(
        {name, value.unit, test, q.low * factor, q.value * factor, q.high * factor, made.dimension, true});
  }
  return made;
}

Chain::Chain(const Goal& goal)
    : germination(rate(goal.rates.germination, "germination",
                       "a germination test: {} seeds of the lot on damp paper, counted for three weeks", true)),
      standing(rate(goal.rates.standing, "standing",
                    "count the seedlings of {} emerged that still stand six weeks later, in last season's way", true)),
      usable(rate(goal.rates.usable, "usable", "look over {} ready seedlings: how many would you strike?", false)),
      weaning(rate(goal.rates.weaning, "weaning", "count {} rooted cuttings through weaning", false)),
      winter(rate(goal.rates.winter, "winter", "count {} weaned trees through a winter", true)),
      germination_time(timing(goal.species.germination_time, "germination time",
                              "sow 50 seeds three weeks early, log the seedbed's temperature, count every second day",
                              growth::chilling_factor(goal.chill_days, goal.species.chill_days.typical(),
                                                      goal.species.unchilled_time_factor.typical()))),
      germination_spread(timing(goal.species.germination_spread, "germination spread", "the same 50 seeds",
                                growth::chilling_factor(goal.chill_days, goal.species.chill_days.typical(),
                                                        goal.species.unchilled_spread_factor.typical()))),
      cover_time(
          timing(goal.species.cover_time, "time through the cover", "the same 50 seeds, half of them dug up once")),
      ripening_time(timing(goal.species.ripening_time, "ripening time",
                           "mark 20 seedlings on the day they emerge and note the day each is ready")),
      ripening_spread(timing(goal.species.ripening_spread, "ripening spread", "the same 20 marked seedlings")),
      window_ratio(timing(goal.species.window_end_time, "end of the window",
                          "strike ten every week past the usual time and compare what roots",
                          1 / goal.species.ripening_time.typical())),
      edge_odds(timing(goal.species.edge_odds, "take at the edges of the window",
                       "strike 20 early, 20 in the middle, 20 late, and compare")),
      rooting_time(timing(goal.species.rooting_time, "rooting time",
                          "strike 20 early, log the medium's temperature, lift three a week")),
      rooting_spread(timing(goal.species.rooting_spread, "rooting spread", "the same 20 cuttings")),
      weaning_days(timing(goal.species.weaning_days, "weaning time", "note first roots and full sun for one tray")) {
  // What comes after the plants are counted is not asked about.
  std::erase_if(uncertain, [&](const UncertainQuantity& quantity) {
    const bool after_rooting = quantity.dimension == weaning.dimension || quantity.dimension == weaning_days.dimension;
    return (after_rooting && goal.count_at == CountAt::rooted) ||
           (quantity.dimension == winter.dimension && goal.count_at != CountAt::established);
  });
  // The ratio of the window's end to its start is a plain number to the engine, a thermal time to the grower.
  if (window_ratio.dimension != kFixed) {
    for (UncertainQuantity& quantity : uncertain) {
      if (quantity.dimension != window_ratio.dimension) continue;
      const Quantity& q = goal.species.window_end_time.quantity;
      quantity.low = q.low;
      quantity.typical = q.value;
      quantity.high = q.high;
    }
  }
  const bool several = goal.wants.size() > 1;
  const auto per_want = [&](std::vector<ChainRate>& made, RateBelief Want::* belief, const char* name,
                            const char* test) {
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      std::size_t first = 0;  // the first want with this belief
      while (!same_belief(goal.wants[first].*belief, goal.wants[w].*belief)) ++first;
      bool alone = true;
      for (std::size_t other = 0; other < goal.wants.size(); ++other) {
        if (other != first && same_belief(goal.wants[first].*belief, goal.wants[other].*belief)) alone = false;
      }
      const std::string label = several && alone ? fmt::format("{} ({})", name, goal.wants[w].base_form) : name;
      const bool once = belief == &Want::grade;
      if (first == w) {
        made.push_back(rate(goal.wants[w].*belief, label, test, once));
      } else {
        ChainRate shared = made[first];
        if (once && shared.batch_spread > 0) shared.batch_dimension = dimensions++;
        made.push_back(shared);
      }
    }
  };
  per_want(take, &Want::take, "take", "a trial strike: {} cuttings over at least three sessions, lifted when due");
  per_want(grade, &Want::grade, "grade", "turn out {} rooted cuttings and grade their feet");
}

}  // namespace strikebed::season
