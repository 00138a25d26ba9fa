#include "watched_season.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <utility>

#include "evidence/beta.hpp"

namespace strikebed::season {
namespace {

using Random = std::mt19937_64;
constexpr int kNever = std::numeric_limits<int>::max() / 2;

double normal(Random& random) { return std::normal_distribution<double>{}(random); }
bool happens(double chance, Random& random) { return std::uniform_real_distribution<double>{}(random) < chance; }

double drawn(const ProfileValue& value, Random& random) {
  const Quantity& q = value.quantity;
  if (q.low == q.high) return q.value;
  return q.value * std::exp(std::log(q.high / q.low) / (2 * 1.6448536269514722) * normal(random));
}

double long_run(const RateBelief& belief, Random& random) {
  if (const auto* known = std::get_if<Known>(&belief.belief)) return known->share;
  const evidence::Beta beta = evidence::beta_of(belief).value();
  const double x = std::gamma_distribution<double>{beta.a}(random);
  return x / (x + std::gamma_distribution<double>{beta.b}(random));
}

double moved(double share, double log_odds) {
  if (share <= 0 || share >= 1) return share;
  return 1 / (1 + std::exp(-std::log(share / (1 - share)) - log_odds));
}

std::size_t read_sign(std::size_t sign, double misread, Random& random) {
  if (!happens(misread, random)) return sign;
  if (sign == 0) return 1;
  if (sign + 1 == evidence::kSigns) return sign - 1;
  return happens(0.5, random) ? sign - 1 : sign + 1;
}

}  // namespace

WatchedSeason::WatchedSeason(const Goal& goal, const ThermalSums& sums, int weather, std::uint64_t seed,
                             const OffTheModel& off)
    : first_(sums.first), seeds_(goal.sown.front().seeds) {
  Random random(seed);
  const growth::Species& species = goal.species;
  const auto spread = [&](const RateBelief& belief) {
    return belief.batch_spread.value_or(0) * off.batch_spread_factor;
  };
  const auto of_batch = [&](const RateBelief& belief, double share) {
    return moved(share, spread(belief) * normal(random));
  };
  const double germination_time = drawn(species.germination_time, random);
  const double germination_spread = drawn(species.germination_spread, random);
  const double cover_time = drawn(species.cover_time, random);
  ripening_time_ = drawn(species.ripening_time, random) * off.time_factor;
  const double ripening_spread = drawn(species.ripening_spread, random);
  const double ratio = std::max(drawn(species.window_end_time, random) / ripening_time_, 1.05);
  const double edge = std::min(std::log(drawn(species.edge_odds, random)), 0.0);
  const double rooting_time = drawn(species.rooting_time, random) * off.time_factor;
  const double rooting_spread = drawn(species.rooting_spread, random);
  const double half_life = 28 * std::exp(std::log(2.0) / 1.6448536269514722 * normal(random));  // 14 to 56 days
  const double weaning_days = drawn(species.weaning_days, random);
  const double emerging = of_batch(goal.sown.front().germination, long_run(goal.sown.front().germination, random));
  const double standing = of_batch(goal.rates[Rung::standing], long_run(goal.rates[Rung::standing], random));
  const double usable = long_run(goal.rates[Rung::usable], random);
  const double take = long_run(goal.wants.front().take, random);
  const double weaning = long_run(goal.rates[Rung::weaning], random);
  const double grade = of_batch(goal.wants.front().grade, long_run(goal.wants.front().grade, random));

  const float* const warm_seed = sums.germination.season(weather);
  const float* const ripening = sums.ripening.season(weather);
  const float* const rooting = sums.rooting.season(weather);
  const int sown = static_cast<int>((goal.sown.front().on - first_).count());
  const int last = static_cast<int>((goal.by - first_).count());
  const auto morning_with = [&](const float* clock, int from, double warmth) {
    for (int d = from; d <= last; ++d) {
      if (static_cast<double>(clock[d] - clock[from]) >= warmth) return d;
    }
    return kNever;
  };

  struct Seedling {
    int up;  ///< the morning after it came up
    double demand;
    int lost;  ///< day
    bool there = true;
  };
  std::vector<Seedling> seedlings;
  for (int i = 0; i < seeds_; ++i) {
    if (!happens(emerging, random)) continue;
    const double needed = cover_time + germination_time * std::exp(germination_spread * normal(random));
    const int up = morning_with(warm_seed, sown, needed);
    if (up == kNever) continue;
    Seedling one{up, ripening_time_ * std::exp(ripening_spread * normal(random)), kNever};
    // Survival to the age a is standing^(1 - 2^(-a / half)).
    const double u = std::uniform_real_distribution<double>{}(random);
    if (const double reached = std::log(u) / std::log(standing); standing < 1 && reached < 1) {
      one.lost = up + static_cast<int>(std::ceil(-std::log2(1 - reached) * species.loss_half_age_days.typical()));
    }
    seedlings.push_back(one);
  }
  for (int d = sown + 14; d < last; d += 7) {
    const auto up = std::ranges::count_if(seedlings, [&](const Seedling& one) { return one.up <= d; });
    emerged_.push_back({first_ + Days{d}, static_cast<int>(up), seeds_});
  }
  const double room = goal.sessions.cuttings_at_most.value_or(1 << 20);
  for (int d = sown + 1; d < last; ++d) {
    const Date today = first_ + Days{d};
    if (!goal.sessions.weekdays[static_cast<std::size_t>(weekday_of(today) - 1)]) continue;
    TrayLook look{.on = today};
    struct Read {
      Seedling* one;
      std::size_t sign;
    };
    std::vector<Read> read;
    for (Seedling& one : seedlings) {
      if (!one.there || one.up > d) continue;
      if (one.lost <= d) {
        one.there = false;
        ++look.lost;
        continue;
      }
      const double ripe = static_cast<double>(ripening[d] - ripening[one.up]) / one.demand;
      const std::size_t sign = ripe >= ratio ? 3 : ripe >= 1 ? 2 : ripe >= 0.8 ? 1 : 0;
      read.push_back({&one, read_sign(sign, off.misread, random)});
      ++look.signs[read.back().sign];
    }
    look.standing = static_cast<int>(read.size());
    if (read.empty() && look.lost == 0) continue;
    std::ranges::shuffle(read, random);
    const double usable_now = of_batch(goal.rates[Rung::usable], usable);
    const double take_now = take;
    const double take_effect = spread(goal.wants.front().take) * normal(random);
    const double weaning_now = of_batch(goal.rates[Rung::weaning], weaning);
    Strike strike{today, {}};
    SeenSession session{today, 0, 0};
    for (const std::size_t wanted : {std::size_t{2}, std::size_t{3}}) {
      for (const Read& one : read) {
        if (one.sign != wanted || session.good >= room) continue;
        one.one->there = false;
        ++look.taken;
        ++session.of;
        if (!happens(usable_now, random)) continue;
        ++session.good;
        const double ripe = static_cast<double>(ripening[d] - ripening[one.one->up]) / one.one->demand;
        const double off_middle = 2 * (ripe - 1) / (ratio - 1) - 1;
        const double takes = ripe >= ratio ? 0 : moved(take_now, take_effect + edge * off_middle * off_middle);
        Cutting cutting{kNever, kNever};
        const int life = d + species.unrooted_life();
        if (happens(takes, random)) {
          cutting.roots = morning_with(rooting, d, rooting_time * std::exp(rooting_spread * normal(random)));
          if (cutting.roots > life) cutting = {kNever, life};
        } else {
          cutting.dies = std::min(d + static_cast<int>(std::ceil(half_life * std::exp(0.65 * normal(random)))), life);
        }
        const int in_time = last - (goal.reaches(Rung::weaning) ? static_cast<int>(std::lround(weaning_days)) : 0);
        const bool weaned = !goal.reaches(Rung::weaning) || happens(weaning_now, random);
        if (cutting.roots <= in_time && weaned && happens(grade, random)) ++counted_;
        strike.cuttings.push_back(cutting);
      }
    }
    tray_.push_back(look);
    if (session.of > 0) sessions_.push_back(session);
    if (strike.cuttings.empty()) continue;
    if (strikes_.empty()) first_strike_ = today;
    strikes_.push_back(std::move(strike));
  }
}

Observed WatchedSeason::seen_before(Date today) const {
  Observed seen;
  SeenSowing sowing;
  for (const SeenCount& look : emerged_) {
    if (look.on < today) sowing.emerged.push_back(look);
  }
  for (const TrayLook& look : tray_) {
    if (look.on < today) sowing.tray.push_back(look);
  }
  seen.sowings.push_back(std::move(sowing));
  for (const SeenSession& session : sessions_) {
    if (session.on < today) seen.sessions.push_back(session);
  }
  for (const Strike& strike : strikes_) {
    if (strike.on >= today) continue;
    SeenStrike noted{.on = strike.on, .sowing = 0, .struck = static_cast<int>(strike.cuttings.size())};
    int dead_before = 0;
    for (int week : {3, 6, 9, 12}) {
      const Date on = strike.on + Days{7 * week};
      if (on >= today) break;
      const auto day = static_cast<int>((on - first_).count());
      SeenCount look{on, 0, 0};
      int dead_by_now = 0;
      for (const Cutting& cutting : strike.cuttings) {
        const bool rooted = cutting.roots <= day;
        const bool dead = cutting.dies <= day;
        look.good += rooted ? 1 : 0;
        look.of += dead ? 0 : 1;
        dead_by_now += dead ? 1 : 0;
      }
      noted.lost.push_back({on, dead_by_now - std::exchange(dead_before, dead_by_now)});
      noted.rooted.push_back(look);
    }
    seen.strikes.push_back(std::move(noted));
  }
  return seen;
}

}  // namespace strikebed::season
