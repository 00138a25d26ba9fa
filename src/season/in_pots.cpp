#include "season/in_pots.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>
#include <vector>

#include "evidence/rate_curve.hpp"
#include "evidence/share_terms.hpp"
#include "season/winter_ahead.hpp"

namespace strikebed::season {
namespace {

/// So many plants, each of which has a chance to be alive when they are counted.
struct Pool {
  double number;
  double alive;
};

/// Those of one strike at the last that is known of each.
struct Stages {
  double waiting = 0;
  double rooted = 0;
  double weaned = 0;
  double wintered = 0;
  double graded = 0;     ///< share of all, 0...1, whose foot was looked at
  double good_feet = 0;  ///< share of those

  Stages(const SeenStrike& strike, const evidence::BatchSeen& seen) {
    waiting = seen.waiting;
    const bool whole = !seen.passed.empty() || seen.waited_by > 0;
    if (whole && !strike.rooted.empty()) {
      for (const SeenCount& look : strike.rooted) {
        if (look.of + strike.number_lost() >= strike.struck - used_up(strike)) rooted = look.good;
      }
    }
    if (strike.weaned) {
      rooted = std::max(rooted - strike.weaned->of, 0.0);
      weaned = strike.weaned->good;
    }
    if (strike.wintered) {
      weaned = std::max(weaned - strike.wintered->of, 0.0);
      wintered = strike.wintered->good;
    }
    double gone = strike.gone;
    for (double* from : {&wintered, &weaned, &rooted}) {
      const double taken = std::min(*from, gone);
      *from -= taken;
      gone -= taken;
    }
    if (strike.graded && strike.graded->of > 0) {
      const double all = std::max({rooted + weaned + wintered, static_cast<double>(strike.graded->of), 1.0});
      graded = strike.graded->of / all;
      good_feet = static_cast<double>(strike.graded->good) / strike.graded->of;
    }
  }
  static int used_up(const SeenStrike& strike) {
    int lifted = 0;
    for (const SeenCount& look : strike.lifted) lifted += look.of;
    return lifted;
  }
};

/// Nothing was counted of all of them: so many may have rooted or not.
double never_counted(const SeenStrike& strike, const evidence::BatchSeen& seen) {
  if (seen.waited_by > 0) return 0;
  return std::max(strike.struck - Stages::used_up(strike) - strike.number_lost(), 0);
}

/// What is the same of a strike in every future.
struct Strike {
  std::size_t which;  ///< of those seen
  std::size_t want;
  int struck, looked;  ///< days: looked at last
  Stages stages;
  double uncounted;
  double of_all_left;  ///< those struck, to those that are not lost
  double of_winter;
  double kept;  ///< not used up

  [[nodiscard]] bool may_root() const { return stages.waiting + uncounted > 0; }
  [[nodiscard]] bool stands_like(const Strike& other) const { return struck == other.struck && looked == other.looked; }
};

/// What becomes of those that still stand unrooted, of all strikes that stand alike.
struct Unrooted {
  double before, by;          ///< of those that pass, the share that had by the last look, and that will have in time
  double alive, alive_after;  ///< share that the cold spares until then, since the strike and since that look
};

std::vector<Strike> strikes_of(const Setting& setting, const Observed& seen, std::span<const StrikeDraws> draws) {
  const WinterAhead ahead(setting.goal, *setting.sums);
  std::vector<Strike> strikes;
  for (std::size_t j = 0; j < seen.strikes.size(); ++j) {
    const SeenStrike& strike = seen.strikes[j];
    Date looked = strike.on;
    for (const SeenCount& look : strike.rooted) looked = std::max(looked, look.on);
    const int struck = setting.sums->day(strike.on);
    strikes.push_back({.which = j,
                       .want = strike.want,
                       .struck = struck,
                       .looked = setting.sums->day(looked),
                       .stages = Stages(strike, draws[j].rooting),
                       .uncounted = never_counted(strike, draws[j].rooting),
                       .of_all_left = strike.struck / std::max<double>(strike.struck - strike.number_lost(), 1),
                       .of_winter = ahead.part(struck),
                       .kept = strike.lifted.empty() ? 1 - setting.goal.lifted : 1});
  }
  std::ranges::stable_sort(strikes, {}, [](const Strike& strike) { return std::pair(strike.struck, strike.looked); });
  return strikes;
}

/// Follows the strikes through one future after another.
class Fates {
 public:
  Fates(const Setting& setting, const Futures& futures, const std::vector<Timing>& timings)
      : setting_(setting), futures_(futures), timings_(timings) {}

  [[nodiscard]] Unrooted unrooted(const Strike& strike, int future) {
    const ThermalSums& sums = *setting_.sums;
    const Timing& timing = timings_[static_cast<std::size_t>(future)];
    const float* const clock = sums.rooting.season(futures_.weather(future));
    const int until = rooted_by_day(setting_.goal, sums, timing, strike.struck);
    const evidence::PassingTime time{static_cast<double>(timing.rooting_log_median),
                                     static_cast<double>(timing.rooting_spread), 0};
    const auto through = [&](int day) {
      const float warmth = clock[day] - clock[strike.struck];
      return warmth > 0 ? normal_share_below(time.score(static_cast<double>(warmth))) : 0;
    };
    losses_.read(clock, sums.bench_frost.season(futures_.weather(future)), timing.cuttings, strike.struck,
                 std::max(until, strike.struck + 1));
    return {through(strike.looked), through(std::max(until, strike.struck)),
            static_cast<double>(losses_.surviving(strike.struck, until)),
            static_cast<double>(losses_.surviving(strike.looked, until))};
  }

 private:
  const Setting& setting_;
  const Futures& futures_;
  const std::vector<Timing>& timings_;
  LossClock losses_;
};

}  // namespace

InPots plants_in_pots(const Setting& setting, const Observed& seen, std::span<const StrikeDraws> draws,
                      const Futures& futures, const Workers& workers) {
  const Goal& goal = setting.goal;
  const Chain& chain = *setting.chain;
  const auto count = static_cast<std::size_t>(futures.count());
  InPots pots;
  pots.mean.assign(goal.wants.size(), std::vector<double>(count));
  pots.variance = pots.mean;
  if (goal.is_before_winter_ends()) return pots;
  const std::vector<double> winter = rates_of(chain.shared(Rung::winter), chain.shared(Rung::winter).batch, futures);
  std::vector<std::vector<double>> grade;
  for (const ChainRate& rate : chain.rates[Rung::grade]) grade.push_back(rates_of(rate, rate.batch, futures));
  const ChainRate& to_wean = chain.shared(Rung::weaning);
  std::map<int, std::vector<double>> weaning;  // by day of the strike
  for (const SeenStrike& strike : seen.strikes) {
    std::vector<double>& rates = weaning[setting.sums->day(strike.on)];
    if (rates.empty()) rates = rates_of(to_wean, batch_of_day(to_wean, strike.on), futures);
  }
  const std::vector<Strike> strikes = strikes_of(setting, seen, draws);
  const std::vector<Timing> timings = timings_of(chain, futures);
  in_blocks(workers, futures.count(), [&](int begin, int end) {
    Fates fates(setting, futures, timings);
    for (int future = begin; future < end; ++future) {
      const auto f = static_cast<std::size_t>(future);
      std::optional<Unrooted> unrooted;
      for (std::size_t i = 0; i < strikes.size(); ++i) {
        const Strike& strike = strikes[i];
        const Stages& stages = strike.stages;
        if (i > 0 && !strike.stands_like(strikes[i - 1])) unrooted.reset();
        double roots = 0;       // of one that waits, in time
        double roots_ever = 0;  // of one of which nothing is known
        if (strike.may_root()) {
          constexpr double kHardly = 1e-9;
          if (!unrooted) unrooted = fates.unrooted(strike, future);
          const StrikeDraws& drawn = draws[strike.which];
          const double later = std::max(unrooted->by - unrooted->before, 0.0) / std::max(1 - unrooted->before, kHardly);
          roots = static_cast<double>(drawn.chance_of_waiting[f]) * later * unrooted->alive_after;
          const double takes = evidence::share_of(static_cast<double>(drawn.take_logit[f])) * strike.of_all_left;
          roots_ever = std::min(takes * unrooted->by, 1.0) * unrooted->alive;
        }
        const double weaned = goal.reaches(Rung::weaning) ? weaning.at(strike.struck)[f] : 1;
        const double wintered = strike.of_winter > 0 ? std::pow(winter[f], strike.of_winter) : 1;
        const double foot = grade[strike.want][f];
        const double good = stages.graded * stages.good_feet + (1 - stages.graded) * foot;
        const double unsure = (1 - stages.graded) * foot * (1 - foot);
        for (const auto& [number, alive] :
             {Pool{stages.waiting, roots * weaned * wintered}, Pool{strike.uncounted, roots_ever * weaned * wintered},
              Pool{stages.rooted, weaned * wintered}, Pool{stages.weaned, wintered}, Pool{stages.wintered, 1.0}}) {
          const double kept = alive * strike.kept;
          pots.mean[strike.want][f] += number * kept * good;
          pots.variance[strike.want][f] += number * (kept * (1 - kept) * good * good + kept * unsure);
        }
      }
    }
  });
  return pots;
}

}  // namespace strikebed::season
