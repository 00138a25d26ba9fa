#include "one_by_one.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <random>
#include <string>
#include <utility>

#include "evidence/beta.hpp"
#include "growth/stages.hpp"

namespace strikebed::season::one_by_one {
namespace {

using Random = std::mt19937_64;

double normal(Random& random) { return std::normal_distribution<double>{}(random); }
double uniform(Random& random) { return std::uniform_real_distribution<double>{}(random); }
bool happens(double chance, Random& random) { return uniform(random) < chance; }

/// A quantity's log-normal: median `value`, 90 % of it between `low` and `high`.
double drawn(const Quantity& quantity, Random& random) {
  if (quantity.low == quantity.high) return quantity.value;
  const double sd = std::log(quantity.high / quantity.low) / (2 * 1.6448536269514722);
  return quantity.value * std::exp(sd * normal(random));
}

/// A rate as a distribution to draw from. Beta(a, b) is X / (X + Y) with X and Y gamma.
struct Rate {
  explicit Rate(const RateBelief& belief) : batch_spread(belief.batch_spread.value_or(0)) {
    if (const auto* exact = std::get_if<Known>(&belief.belief)) {
      known = true;
      share = exact->share;
    } else {
      beta = *evidence::beta_of(belief);
    }
  }
  double long_run(Random& random) const {
    if (known) return share;
    const double x = std::gamma_distribution<double>{beta.a}(random);
    const double y = std::gamma_distribution<double>{beta.b}(random);
    return x / (x + y);
  }

  double batch_spread;
  bool known = false;
  double share = 0;
  evidence::Beta beta;
};

double logit(double share) { return std::log(share / (1 - share)); }
double from_logit(double log_odds) { return 1 / (1 + std::exp(-log_odds)); }

/// The long-run rate moved on the logit scale, so many spreads.
double moved(const Rate& rate, double long_run, double effect) {
  if (rate.batch_spread == 0) return long_run;
  return from_logit(logit(long_run) + rate.batch_spread * effect);
}

/// The rate of one batch.
double of_batch(const Rate& rate, double long_run, Random& random) {
  return rate.batch_spread == 0 ? long_run : moved(rate, long_run, normal(random));
}

/// A share lost in a week, of which a small doubtful one is about log-normal as a rate of loss.
double drawn_weekly(const Quantity& share, Random& random) {
  const auto rate = [](double lost) { return -std::log(1 - lost); };
  if (share.value == 0) return 0;
  return 1 - std::exp(-drawn({rate(share.value), rate(share.low), rate(share.high)}, random));
}

/// A temperature, normal.
double drawn_c(const Quantity& degrees, Random& random) {
  return degrees.value + (degrees.high - degrees.low) / (2 * kScore95) * normal(random);
}

/// Of a plant or seed that stands still on days that bring its clock less than 1 degC d (a seventh of the weekly loss,
/// or what part of it the day was still), and that freezes: half of them die of a night of `half_c`, and every 0.7
/// degrees halve or double the rate.
double chance_to_live(const float* clock, const float* frost, double lost_a_week, double half_c, int from, int to) {
  double alive = 1;
  for (int day = from; day < to; ++day) {
    const double still = std::max(1 - static_cast<double>(clock[day + 1] - clock[day]), 0.0);
    alive *= std::pow(1 - lost_a_week, still / 7);
    if (frost && frost[day] > 0) {
      const double lowest_c = -0.7 * std::log2(static_cast<double>(frost[day]));
      alive *= std::exp2(-std::exp2((half_c - lowest_c) / 0.7));
    }
  }
  return alive;
}

/// Everything that is one number for a whole season.
struct Season {
  const float* germination;
  const float* ripening;
  const float* rooting;
  double germination_time, germination_spread, cover_time;  ///< fully chilled
  double ripening_time, ripening_spread, window_ratio, edge_log_odds;
  double rooting_time, rooting_spread;
  const float* bed_frost;    ///< null: it never freezes there
  const float* bench_frost;  ///< the same
  double cold_seed, idle;    ///< share lost in a week
  double seedling_frost_c, cutting_frost_c;
  int deadline;  ///< rooted by the morning of this day
  double winter;
  std::vector<double> emerging, standing;  ///< per sowing
  std::vector<double> usable, weaning;     ///< per session
  std::vector<std::vector<double>> take;   ///< [session][want], in the middle of the window
  std::vector<double> grade;               ///< per want
};

struct Seedling {
  int sowing;
  int emerged;            ///< day
  double emerged_clock;   ///< ripening clock at the end of its day of emergence
  double demand;          ///< warmth from there to the opening of its window
  double place_in_queue;  ///< drawn, to break ties
};

class Nursery {
 public:
  /// Whether lives and windows are noted too. What only they need is drawn beside: the seasons are the same either way.
  enum class Noting { counts, all };
  Nursery(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions, std::span<const SownSeeds> sowings,
          std::span<const double> shares, Noting noting, std::uint64_t random_seed)
      : noting_(noting),
        beside_(random_seed + 1),
        goal_(goal),
        sums_(sums),
        session_days_(sessions.day),
        strike_from_(sessions.strike_from),
        sowings_(sowings),
        shares_(shares),
        standing_(goal.rates[Rung::standing]),
        usable_(goal.rates[Rung::usable]),
        weaning_(goal.rates[Rung::weaning]),
        winter_(goal.rates[Rung::winter]) {
    germination_.emplace_back(goal.rates[Rung::germination]);
    for (const Sown& own : goal.sown) germination_.emplace_back(own.germination);
    for (const Want& want : goal.wants) {
      take_.emplace_back(want.take);
      grade_.emplace_back(want.grade);
    }
    for (std::size_t s = 0; s < session_days_.size(); ++s) winter_left_.push_back(winter_left(s));
  }

  Seen live(Random& random) {
    Seen seen;
    const Season season = draw_season(random);
    std::vector<std::vector<Seedling>> arriving = raise(season, random, seen);
    seen.counted.resize(goal_.wants.size());
    std::vector<Seedling> waiting;
    for (std::size_t s = 0; s < session_days_.size(); ++s) {
      const double now = clock_at(season, s);
      const double alive = s == 0 ? 1
                                  : chance_to_live(season.ripening, season.bed_frost, season.idle,
                                                   season.seedling_frost_c, session_days_[s - 1], session_days_[s]);
      std::erase_if(waiting, [&](const Seedling& one) {
        return gained(one, now) >= one.demand * season.window_ratio || !happens(alive, random);
      });
      // Among equals at random; those from earlier sessions are ahead already.
      std::ranges::sort(arriving[s], {}, &Seedling::place_in_queue);
      waiting.insert(waiting.end(), arriving[s].begin(), arriving[s].end());
      const auto room = static_cast<std::size_t>(goal_.sessions.cuttings_at_most.value_or(1 << 30));
      const std::size_t struck = std::min(room, waiting.size());
      seen.struck.push_back(static_cast<int>(struck));
      for (std::size_t i = 0; i < struck; ++i) {
        const std::size_t want = any_want(random);
        const std::optional<int> rooted = rooted_on(season, waiting[i], s, want, random);
        if (!rooted) continue;
        seen.rooted.push_back(*rooted);
        if (is_counted(season, s, want, random)) ++seen.counted[want];
      }
      waiting.erase(waiting.begin(), waiting.begin() + static_cast<std::ptrdiff_t>(struck));
    }
    return seen;
  }

 private:
  Season draw_season(Random& random) const {
    const growth::Species& species = goal_.species;
    Season season{};
    const int weather = std::uniform_int_distribution<int>{0, sums_.seasons - 1}(random);
    season.germination = sums_.germination.season(weather);
    season.ripening = sums_.ripening.season(weather);
    season.rooting = sums_.rooting.season(weather);
    season.bed_frost = sums_.seedbed_frost.season(weather);
    season.bench_frost = sums_.bench_frost.season(weather);
    season.germination_time = drawn(species.germination_time.quantity, random);
    season.germination_spread = drawn(species.germination_spread.quantity, random);
    season.cover_time = drawn(species.cover_time.quantity, random);
    season.ripening_time = drawn(species.ripening_time.quantity, random);
    season.ripening_spread = drawn(species.ripening_spread.quantity, random);
    season.window_ratio = std::max(drawn(species.window_end_time.quantity, random) / season.ripening_time, 1.05);
    season.edge_log_odds = std::min(std::log(drawn(species.edge_odds.quantity, random)), 0.0);
    season.rooting_time = drawn(species.rooting_time.quantity, random);
    season.rooting_spread = drawn(species.rooting_spread.quantity, random);
    const double weaning_days = drawn(species.weaning_days.quantity, random);
    season.cold_seed = drawn_weekly(species.cold_seed_loss.quantity, random);
    season.idle = drawn_weekly(species.idle_loss.quantity, random);
    season.seedling_frost_c = drawn_c(species.seedling_frost_c.quantity, random);
    season.cutting_frost_c = drawn_c(species.cutting_frost_c.quantity, random);
    const Date last = goal_.count_at == CountAt::established ? goal_.winter_starts : goal_.by;
    season.deadline = static_cast<int>((last - sums_.first).count());
    if (goal_.count_at != CountAt::rooted) season.deadline -= static_cast<int>(std::lround(weaning_days));

    // A lot germinates in the long run as it does; what is sown on one day shares the bed's luck.
    std::map<std::string, double> germination;
    std::map<std::pair<int, bool>, std::pair<double, double>> luck_of_day;  // of the goal's own, and of others
    const double standing = standing_.long_run(random);
    for (const SownSeeds& sowing : sowings_) {
      const Rate& rate = germination_[sowing.seed];
      const auto [of_lot, new_lot] = germination.try_emplace(lot_of(sowing).name);
      if (new_lot) of_lot->second = rate.long_run(random);
      const auto [luck, new_day] = luck_of_day.try_emplace({sowing.day, sowing.seed > 0});
      if (new_day) luck->second = {normal(random), normal(random)};
      season.emerging.push_back(moved(rate, of_lot->second, luck->second.first));
      season.standing.push_back(moved(standing_, standing, luck->second.second));
    }
    const double usable = usable_.long_run(random);
    const double weaning = weaning_.long_run(random);
    const std::vector<double> take = long_run_by_want(take_, &Want::own_take, random);
    for (std::size_t s = 0; s < session_days_.size(); ++s) {
      season.usable.push_back(of_batch(usable_, usable, random));
      season.weaning.push_back(of_batch(weaning_, weaning, random));
      std::vector<double> now;
      for (std::size_t w = 0; w < take.size(); ++w) now.push_back(of_batch(take_[w], take[w], random));
      season.take.push_back(now);
    }
    const std::vector<double> grade = long_run_by_want(grade_, &Want::own_grade, random);
    for (std::size_t w = 0; w < grade.size(); ++w) season.grade.push_back(of_batch(grade_[w], grade[w], random));
    season.winter = of_batch(winter_, winter_.long_run(random), random);
    return season;
  }

  const Lot& lot_of(const SownSeeds& sowing) const {
    return sowing.seed == 0 ? goal_.lot : goal_.sown[sowing.seed - 1].lot;
  }

  /// Wants without a rate of their own share one: same grower, same bench.
  std::vector<double> long_run_by_want(const std::vector<Rate>& rates, bool Want::* own, Random& random) const {
    std::vector<double> drawn_rates;
    const double* shared = nullptr;
    drawn_rates.reserve(rates.size());
    for (std::size_t w = 0; w < rates.size(); ++w) {
      const bool its_own = goal_.wants[w].*own;
      drawn_rates.push_back(its_own || !shared ? rates[w].long_run(random) : *shared);
      if (!its_own && !shared) shared = &drawn_rates.back();
    }
    return drawn_rates;
  }

  /// Every seed up to its first session: who is accepted when.
  std::vector<std::vector<Seedling>> raise(const Season& season, Random& random, Seen& seen) {
    std::vector<std::vector<Seedling>> arriving(session_days_.size());
    for (std::size_t sowing = 0; sowing < sowings_.size(); ++sowing) {
      for (int seed = 0; seed < sowings_[sowing].seeds; ++seed) {
        if (!happens(season.emerging[sowing], random)) continue;
        const bool stands = happens(season.standing[sowing], random);
        if (!stands && noting_ == Noting::counts) continue;
        const std::optional<int> up = emerged_on(season, sowings_[sowing], stands ? random : beside_);
        if (!up) continue;
        const double lain =
            chance_to_live(season.germination, nullptr, season.cold_seed, 0, sowings_[sowing].day, *up + 1);
        if (!happens(lain, stands ? random : beside_)) continue;
        if (noting_ == Noting::all) seen.lives.push_back({*up, stands ? kStands : *up + age_of_loss()});
        if (!stands) continue;
        Seedling one{};
        one.sowing = static_cast<int>(sowing);
        one.emerged = *up;
        one.emerged_clock = static_cast<double>(season.ripening[*up + 1]);
        one.demand = season.ripening_time * std::exp(season.ripening_spread * normal(random));
        const std::optional<std::size_t> session = accepted_at(season, one, random);
        if (!session) continue;
        one.place_in_queue = uniform(random);
        arriving[*session].push_back(one);
        if (noting_ == Noting::all) seen.windows.push_back(window_of(season, one));
      }
    }
    return arriving;
  }

  /// The first day at whose end there has been warmth enough since the morning of sowing.
  std::optional<int> emerged_on(const Season& season, const SownSeeds& sowing, Random& random) const {
    const int sown = sowing.day;
    const Lot& lot = lot_of(sowing);
    const auto unchilled = [&](const ProfileValue& factor) {
      const double full = lot.fresh ? 0 : goal_.species.chill_days.typical();
      return growth::chilling_factor(lot.chill_days, full, factor.typical());
    };
    const double time = season.germination_time * unchilled(goal_.species.unchilled_time_factor);
    const double spread = season.germination_spread * unchilled(goal_.species.unchilled_spread_factor);
    const double needed =
        static_cast<double>(season.germination[sown]) + season.cover_time + time * std::exp(spread * normal(random));
    const float* end = season.germination + sums_.days + 1;
    const float* reached = std::lower_bound(season.germination + sown + 1, end, needed);
    if (reached == end) return std::nullopt;
    return static_cast<int>(reached - season.germination) - 1;
  }

  /// Half of those that are lost are lost within so many days of coming up, half of the rest within as many again.
  double age_of_loss() { return -std::log2(1 - uniform(beside_)) * goal_.species.loss_half_age_days.typical(); }

  /// Its place in the window at a session: 0 as it opens, 1 as it closes.
  double place_at(const Season& season, const Seedling& one, std::size_t session) const {
    return (gained(one, clock_at(season, session)) - one.demand) / (one.demand * (season.window_ratio - 1));
  }

  /// The strike rule, of a seedling that has opened and not closed.
  bool is_struck_at(const Season& season, const Seedling& one, std::size_t s) const {
    if (s + 1 == session_days_.size()) return true;
    const double now = place_at(season, one, s);
    const double next = place_at(season, one, s + 1);
    return (now + next) / 2 >= static_cast<double>(strike_from_[s]) || next >= 1;
  }

  /// The session at which it is struck, if it is found usable there. It may be too late.
  std::optional<std::size_t> accepted_at(const Season& season, const Seedling& one, Random& random) const {
    for (std::size_t s = 0; s < session_days_.size(); ++s) {
      const double place = place_at(season, one, s);
      if (place < 0 || (place < 1 && !is_struck_at(season, one, s))) continue;
      const double alive = chance_to_live(season.ripening, season.bed_frost, season.idle, season.seedling_frost_c,
                                          one.emerged + 1, session_days_[s]);
      if (place < 1 && happens(season.usable[s] * alive, random)) return s;
      break;
    }
    return std::nullopt;
  }

  /// First morning on which it has had so much warmth since it came up.
  int morning_with(const Season& season, const Seedling& one, double warmth) const {
    const float* end = season.ripening + sums_.days;
    return static_cast<int>(std::lower_bound(season.ripening, end, one.emerged_clock + warmth) - season.ripening);
  }
  Window window_of(const Season& season, const Seedling& one) const {
    return {morning_with(season, one, one.demand), morning_with(season, one, one.demand * season.window_ratio)};
  }

  /// The day by whose morning a cutting has rooted, if it takes and does so in time.
  std::optional<int> rooted_on(const Season& season, const Seedling& one, std::size_t session, std::size_t want,
                               Random& random) const {
    double take = season.take[session][want];
    const double off_middle = 2 * place_at(season, one, session) - 1;
    take = from_logit(logit(take) + season.edge_log_odds * off_middle * off_middle);
    if (!happens(take, random)) return std::nullopt;
    const int struck = session_days_[session];
    const int life = static_cast<int>(goal_.species.unrooted_life_days.typical());
    const int last = std::min(season.deadline, struck + life);
    if (last <= struck) return std::nullopt;
    const double needed = season.rooting_time * std::exp(season.rooting_spread * normal(random));
    const auto brings = [&](int day) { return static_cast<double>(season.rooting[day] - season.rooting[struck]); };
    if (brings(last) < needed) return std::nullopt;
    int day = struck + 1;
    while (brings(day) < needed) ++day;
    const double alive =
        chance_to_live(season.rooting, season.bench_frost, season.idle, season.cutting_frost_c, struck, day);
    if (!happens(alive, random)) return std::nullopt;
    return day;
  }

  /// The part of the winter before a plant of a session: all, to be established; else from the day on which half of
  /// the session would be weaned in the mean of the seasons, if the winter is over before they are counted.
  double winter_left(std::size_t session) const {
    if (goal_.count_at == CountAt::established) return 1;
    if (goal_.winter_ends > goal_.by) return 0;
    const int struck = session_days_[session];
    const auto mean_clock = [&](int day) {
      double sum = 0;
      for (int s = 0; s < sums_.seasons; ++s) sum += static_cast<double>(sums_.rooting.season(s)[day]) / sums_.seasons;
      return sum;
    };
    int weaned = struck;
    while (weaned <= sums_.days && mean_clock(weaned) < mean_clock(struck) + goal_.species.rooting_time.typical()) {
      ++weaned;
    }
    const double out = weaned + goal_.species.weaning_days.typical();
    const auto starts = static_cast<double>((goal_.winter_starts - sums_.first).count());
    const auto ends = static_cast<double>((goal_.winter_ends - sums_.first).count());
    return std::clamp((ends - out) / (ends - starts), 0.0, 1.0);
  }

  bool is_counted(const Season& season, std::size_t session, std::size_t want, Random& random) const {
    if (goal_.count_at != CountAt::rooted && !happens(season.weaning[session], random)) return false;
    if (goal_.count_at == CountAt::established && goal_.winter_ends > goal_.by) return false;
    if (!happens(std::pow(season.winter, winter_left_[session]), random)) return false;
    if (!happens(season.grade[want], random)) return false;
    return !happens(goal_.controls + goal_.lifted, random);
  }

  /// A session sees what was ready at the end of the day before.
  double clock_at(const Season& season, std::size_t session) const {
    return static_cast<double>(season.ripening[session_days_[session]]);
  }
  static double gained(const Seedling& one, double now) { return now - one.emerged_clock; }

  std::size_t any_want(Random& random) const {
    double left = uniform(random);
    for (std::size_t w = 0; w + 1 < shares_.size(); ++w) {
      if (left < shares_[w]) return w;
      left -= shares_[w];
    }
    return shares_.size() - 1;
  }

  Noting noting_;
  Random beside_;
  const Goal& goal_;
  const ThermalSums& sums_;
  std::span<const int> session_days_;
  std::span<const float> strike_from_;
  std::span<const SownSeeds> sowings_;
  std::span<const double> shares_;
  std::vector<Rate> germination_;  ///< [seed]
  Rate standing_, usable_, weaning_, winter_;
  std::vector<Rate> take_, grade_;   ///< per want
  std::vector<double> winter_left_;  ///< per session
};

}  // namespace

Outcome simulate(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions,
                 std::span<const SownSeeds> sowings, std::span<const double> shares, int seasons,
                 std::uint64_t random_seed) {
  Random random(random_seed);
  Nursery nursery(goal, sums, sessions, sowings, shares, Nursery::Noting::counts, random_seed);
  Outcome outcome;
  outcome.by_want.resize(goal.wants.size());
  outcome.counted.resize(goal.wants.size());
  for (int season = 0; season < seasons; ++season) {
    const std::vector<int> counted = nursery.live(random).counted;
    bool all = true;
    for (std::size_t w = 0; w < counted.size(); ++w) {
      const bool enough = counted[w] >= goal.wants[w].count;
      outcome.by_want[w] += enough ? 1.0 / seasons : 0;
      outcome.counted[w] += static_cast<double>(counted[w]) / seasons;
      all = all && enough;
    }
    outcome.met += all ? 1.0 / seasons : 0;
  }
  outcome.error = std::sqrt(outcome.met * (1 - outcome.met) / seasons);
  return outcome;
}

std::vector<Seen> look_on(const Goal& goal, const ThermalSums& sums, const SessionDays& sessions,
                          std::span<const SownSeeds> sowings, std::span<const double> shares, int seasons,
                          std::uint64_t random_seed) {
  Random random(random_seed);
  Nursery nursery(goal, sums, sessions, sowings, shares, Nursery::Noting::all, random_seed);
  std::vector<Seen> seen;
  for (int season = 0; season < seasons; ++season) seen.push_back(nursery.live(random));
  return seen;
}

}  // namespace strikebed::season::one_by_one
