#include "season/in_pots.hpp"

#include <algorithm>
#include <cmath>

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

}  // namespace

InPots plants_in_pots(const Setting& setting, const Observed& seen, std::span<const StrikeDraws> strikes,
                      const Futures& futures, const Workers& workers) {
  const Goal& goal = setting.goal;
  const Chain& chain = *setting.chain;
  const ThermalSums& sums = *setting.sums;
  const auto count = static_cast<std::size_t>(futures.count());
  InPots pots;
  pots.mean.assign(goal.wants.size(), std::vector<double>(count));
  pots.variance = pots.mean;
  if (goal.is_before_winter_ends()) return pots;
  const std::vector<Timing> timings = timings_of(chain, futures);
  const std::vector<double> winter = rates_of(chain.shared(Rung::winter), chain.shared(Rung::winter).batch, futures);
  std::vector<std::vector<double>> grade;
  for (const ChainRate& rate : chain.rates[Rung::grade]) grade.push_back(rates_of(rate, rate.batch, futures));
  const WinterAhead ahead(goal, sums);
  for (std::size_t j = 0; j < seen.strikes.size(); ++j) {
    const SeenStrike& strike = seen.strikes[j];
    const StrikeDraws& draws = strikes[j];
    const Stages stages(strike, draws.rooting);
    const double uncounted = never_counted(strike, draws.rooting);
    const ChainRate& to_wean = chain.shared(Rung::weaning);
    const std::vector<double> weaning = rates_of(to_wean, batch_of_day(to_wean, strike.on), futures);
    const int struck = sums.day(strike.on);
    Date last_look = strike.on;
    for (const SeenCount& look : strike.rooted) last_look = std::max(last_look, look.on);
    const int looked = sums.day(last_look);
    const double of_winter = ahead.part(struck);
    const double not_used_up = strike.lifted.empty() ? 1 - goal.lifted : 1;
    in_blocks(workers, futures.count(), [&](int begin, int end) {
      LossClock losses;
      for (int future = begin; future < end; ++future) {
        const auto f = static_cast<std::size_t>(future);
        const Timing& timing = timings[f];
        const double weaned = goal.reaches(Rung::weaning) ? weaning[f] : 1;
        const double wintered = of_winter > 0 ? std::pow(winter[f], of_winter) : 1;
        double roots = 0;       // of one that waits, in time
        double roots_ever = 0;  // of one of which nothing is known
        if (stages.waiting + uncounted > 0) {
          const float* const clock = sums.rooting.season(futures.weather(future));
          const int until = rooted_by_day(goal, sums, timing, struck);
          const evidence::PassingTime time{static_cast<double>(timing.rooting_log_median),
                                           static_cast<double>(timing.rooting_spread), 0};
          const auto through = [&](int day) {
            const double warmth = static_cast<double>(clock[day] - clock[struck]);
            return warmth > 0 ? normal_share_below(time.score(warmth)) : 0;
          };
          const double before = through(looked);
          const double by = through(std::max(until, struck));
          const auto logit = static_cast<double>(draws.take_logit[f]);
          constexpr double kHardly = 1e-9;
          roots = by > before
                      ? evidence::ShareTerms(draws.rooting, time, static_cast<double>(draws.failure_half_life[f]))
                                .chance_of_waiting(logit) *
                            (by - before) / std::max(1 - before, kHardly)
                      : 0;
          roots_ever = std::min(evidence::share_of(logit) * by * strike.struck /
                                    std::max(static_cast<double>(strike.struck - strike.number_lost()), 1.0),
                                1.0);
          losses.read(clock, sums.bench_frost.season(futures.weather(future)), timing.cuttings, struck,
                      std::max(until, struck + 1));
          roots *= static_cast<double>(losses.surviving(looked, until));
          roots_ever *= static_cast<double>(losses.surviving(struck, until));
        }
        const double good = stages.graded * stages.good_feet + (1 - stages.graded) * grade[strike.want][f];
        const double unsure = (1 - stages.graded) * grade[strike.want][f] * (1 - grade[strike.want][f]);
        for (const auto& [number, alive] :
             {Pool{stages.waiting, roots * weaned * wintered}, Pool{uncounted, roots_ever * weaned * wintered},
              Pool{stages.rooted, weaned * wintered}, Pool{stages.weaned, wintered}, Pool{stages.wintered, 1.0}}) {
          const double kept = alive * not_used_up;
          pots.mean[strike.want][f] += number * kept * good;
          pots.variance[strike.want][f] += number * (kept * (1 - kept) * good * good + kept * unsure);
        }
      }
    });
  }
  return pots;
}

}  // namespace strikebed::season
