#include "season/learning.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <span>
#include <utility>

#include "base/random.hpp"
#include "evidence/cure_model.hpp"
#include "evidence/logistic.hpp"
#include "evidence/looks.hpp"
#include "evidence/rate_curve.hpp"
#include "evidence/rate_fit.hpp"
#include "evidence/readiness.hpp"
#include "growth/stages.hpp"

namespace strikebed::season {
namespace {

/// The usual season's clocks, at the start of each day.
struct Clocks {
  explicit Clocks(const ThermalSums& sums)
      : of(sums),
        germination(sums.germination.usual(std::min(sums.seasons, kUsualSeasons))),
        ripening(sums.ripening.usual(std::min(sums.seasons, kUsualSeasons))),
        rooting(sums.rooting.usual(std::min(sums.seasons, kUsualSeasons))) {}

  [[nodiscard]] int day(Date date) const { return of.day(date); }
  [[nodiscard]] static double between(const std::vector<double>& clock, int from, int to) {
    return to > from ? clock[static_cast<std::size_t>(to)] - clock[static_cast<std::size_t>(from)] : 0;
  }

  const ThermalSums& of;
  std::vector<double> germination, ripening, rooting;
};

/// A timing as the fits believe it.
Quantity quantity_of(const ChainTiming& timing) {
  const double value = std::exp(timing.log_median);
  const double range = std::exp(kScore95 * timing.log_sd);
  return {value, value / range, value * range};
}

/// The share of each day's emergence, of a sowing in the usual season, as the middle of the belief has it and as counts
/// of all the seed put it right between looks.
std::vector<double> emergence_by_day(const SeenSowing& sowing, int seeds, int sown, const evidence::BatchSeen& batch,
                                     const evidence::CurePoint& middle, const Clocks& clocks, int until) {
  const auto through = [&](int day) {
    const double since = Clocks::between(clocks.germination, sown, day) - middle.delay;
    if (since <= 0) return 0.0;
    const double log_median = middle.log_time + std::log(batch.time_factor);
    return normal_share_below((std::log(since) - log_median) / (middle.spread * batch.spread_factor));
  };
  std::vector<double> share;
  for (int d = sown; d < until; ++d) share.push_back(through(d + 1) - through(d));
  int from = sown;
  int before = 0;
  for (const SeenCount& look : sowing.emerged) {
    const int by = clocks.day(look.on);
    if (!look.is_of_all(seeds) || by <= from || by > until) continue;
    double expected = 0;
    for (int d = from; d < by; ++d) expected += share[static_cast<std::size_t>(d - sown)];
    const double rose = static_cast<double>(std::max(look.good - before, 0)) / seeds;
    for (int d = from; d < by; ++d) {
      double& of_day = share[static_cast<std::size_t>(d - sown)];
      of_day = expected > 1e-9 ? of_day * rose / expected : rose / (by - from);
    }
    from = by;
    before = std::max(look.good, before);
  }
  return share;
}

/// Standing by age: of those at risk between two moments, which have `exposure` of all the hazard there is, and of
/// which the cold spares a share, so many were lost.
struct AtRisk {
  double lost, number, exposure, spared;
};
evidence::RateLikelihood standing_likelihood(std::vector<AtRisk> stretches) {
  return [stretches = std::move(stretches)](double logit) {
    constexpr double kLeast = 1e-9;
    const double at = std::clamp(logit, -evidence::kFarthestLogit, evidence::kFarthestLogit);
    const evidence::Logistic fails(-at);
    const double hazard = fails.softplus;  // -ln of the share that stands
    const double slope = -fails.share;
    const double bend = fails.share * (1 - fails.share);
    evidence::LogLikelihoodAt sum;
    for (const AtRisk& one : stretches) {
      const double x = std::max(one.exposure, kLeast);
      const double lives = one.spared * std::exp(-hazard * x);
      const double dies = std::max(1 - lives, kLeast);
      const double left = one.number - one.lost;
      sum.value += one.lost * std::log(dies) + left * std::log(std::max(lives, kLeast));
      // d/dh: lost x lives / dies - left x; d2/dh2: -lost x^2 lives / dies^2
      const double by_hazard = one.lost * x * lives / dies - left * x;
      const double again = -one.lost * x * x * lives / (dies * dies);
      sum.slope += by_hazard * slope;
      sum.bend += again * slope * slope + by_hazard * bend;
    }
    return sum;
  };
}

evidence::ScorePoint means_of(const evidence::Posterior& posterior) {
  evidence::ScorePoint mean{};
  for (std::size_t d = 0; d < static_cast<std::size_t>(posterior.dimensions()); ++d) mean[d] = posterior.mean(d);
  return mean;
}

/// Of ripening and the window, in the middle of what is believed.
struct Ripeness {
  double log_median, spread;
  double ratio;          ///< of the demands for the end and the start of the window
  double edge_log_odds;  ///< <= 0
};
struct Mean {
  double sum = 0, weight = 0;
};
/// The log odds of take of those left of a cohort whose windows are open, after so much warmth: window by places.
void add_odds_of_open(const TrayLeft& left, std::size_t cohort, double gained, double weight, const Ripeness& ripe,
                      Mean& odds) {
  constexpr std::size_t kPlaces = 16;
  std::array<float, kPlaces + 1> demand{};
  std::array<float, kPlaces + 1> share{};
  for (std::size_t k = 0; k <= kPlaces; ++k) {  // from closing to opening
    const double place = static_cast<double>(k);
    demand[k] = static_cast<float>(gained / (ripe.ratio - (ripe.ratio - 1) * place / kPlaces));
    share[k] = static_cast<float>(
        normal_share_below((std::log(static_cast<double>(demand[k])) - ripe.log_median) / ripe.spread));
  }
  left.turn(cohort, demand, share);
  for (std::size_t k = 0; k < kPlaces; ++k) {
    const double place = (gained / (0.5 * static_cast<double>(demand[k] + demand[k + 1])) - 1) / (ripe.ratio - 1);
    const double part = weight * static_cast<double>(share[k + 1] - share[k]);
    odds.weight += part;
    odds.sum += part * growth::take_log_odds(place, ripe.edge_log_odds);
  }
}

/// The long-run shares of a fit's batches, each once, in the order of their first batches.
struct LongRunShares {
  std::vector<DrawName> draws;
  std::vector<RateBelief> beliefs;
  std::vector<int> counted;  ///< seeds or cuttings

  [[nodiscard]] int counted_in_all() const { return std::accumulate(counted.begin(), counted.end(), 0); }
  std::size_t place_of(const DrawName& draw, const RateBelief& belief, int number) {
    const auto at = std::ranges::find(draws, draw);
    const auto place = static_cast<std::size_t>(at - draws.begin());
    if (at == draws.end()) {
      draws.push_back(draw);
      beliefs.push_back(belief);
      counted.push_back(0);
    }
    counted[place] += number;
    return place;
  }
  [[nodiscard]] std::vector<DrawName> other_draws() const { return {draws.begin() + 1, draws.end()}; }
  [[nodiscard]] std::vector<RateBelief> other_beliefs() const { return {beliefs.begin() + 1, beliefs.end()}; }
};

/// All pieces, fitted one after the other: emergence says when those came up that ripen, and so on.
class Learning {
 public:
  Learning(const Setting& setting, const Observed& seen)
      : goal(setting.goal), chain(*setting.chain), sums(*setting.sums), clocks(*setting.sums), observed(seen) {
    learn_emergence();
    learn_standing();
    learn_readiness();
    learn_sessions();
    learn_rooting();
    learn_after_rooting();
  }

  LearntPieces made;

 private:
  [[nodiscard]] int sown_day(std::size_t i) const { return clocks.day(goal.sown[i].on); }
  [[nodiscard]] int today() const { return clocks.day(goal.today); }

  void learn_emergence() {
    if (observed.sowings.empty()) return;
    LongRunShares lots;
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      std::vector<evidence::Look> looks;
      for (const SeenCount& look : observed.sowings[i].emerged) {
        const double at = Clocks::between(clocks.germination, sown_day(i), clocks.day(look.on));
        if (at > 0) looks.push_back({at, look.good, look.of});
      }
      evidence::BatchSeen batch = evidence::batch_seen(goal.sown[i].seeds, looks);
      batch.time_factor = std::exp(static_cast<double>(chain.slowing[i + 1].log_time));
      batch.spread_factor = static_cast<double>(chain.slowing[i + 1].spread);
      const int counted = looks.empty() ? 0 : goal.sown[i].seeds;
      batch.share = lots.place_of(germination(i).draw, goal.sown[i].germination, counted);
      emergence_seen.push_back(std::move(batch));
    }
    const evidence::CureBelief belief{.share = lots.beliefs.front(),
                                      .others = lots.other_beliefs(),
                                      .time = quantity_of(chain.germination_time),
                                      .spread = quantity_of(chain.germination_spread),
                                      .delay = quantity_of(chain.cover_time)};
    evidence::CureFit fit(belief, emergence_seen);
    const evidence::CurePoint middle = fit.point(means_of(fit.posterior()));
    CurePiece piece{
        {std::move(fit),
         {lots.draws.front(), chain.cover_time.draw, chain.germination_time.draw, chain.germination_spread.draw},
         lots.counted_in_all()},
        lots.other_draws(),
        lots.counted};
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      piece.batches.push_back(batch_of_sowing(germination(i), i + 1, goal.sown[i].on));
      piece.batch_spread.push_back(germination(i).batch_spread);
      emerged_by_day.push_back(emergence_by_day(observed.sowings[i], goal.sown[i].seeds, sown_day(i), emergence_seen[i],
                                                middle, clocks, today()));
    }
    made.cures.push_back(std::move(piece));
  }
  [[nodiscard]] const ChainRate& germination(std::size_t sowing) const {
    return chain.rates[Rung::germination][sowing + 1];
  }

  /// What stood at risk between looks at a tray.
  [[nodiscard]] std::vector<AtRisk> at_risk(std::size_t i) const {
    const double half = goal.species.loss_half_age_days.typical();
    const std::vector<double>& up = emerged_by_day[i];
    const auto exposure = [&](int from, int to) {  // mean over those up by `to`
      double all = 0;
      double exposed = 0;
      for (int d = 0; d < std::min(to - sown_day(i), static_cast<int>(up.size())); ++d) {
        const int born = sown_day(i) + d + 1;
        const double begun = growth::losses_by_age(std::max(from - born, 0), half);
        exposed += up[static_cast<std::size_t>(d)] * (growth::losses_by_age(std::max(to - born, 0), half) - begun);
        all += up[static_cast<std::size_t>(d)];
      }
      return all > 0 ? exposed / all : 0;
    };
    LossClock cold;
    const int sown = sown_day(i);
    cold.read(sums.ripening.season(0), sums.seedbed_frost.season(0), usual_hardiness(), sown, std::max(today(), sown));
    std::vector<AtRisk> stretches;
    int from = sown;
    for (const TrayLook& look : observed.sowings[i].tray) {
      const int to = clocks.day(look.on);
      const double number = look.standing + look.lost;
      if (number > 0 && to > from) {
        stretches.push_back({static_cast<double>(std::min(look.lost, look.standing + look.lost)), number,
                             exposure(from, to), static_cast<double>(cold.surviving(from, to))});
        from = to;
      }
    }
    return stretches;
  }
  [[nodiscard]] Hardiness usual_hardiness() const {
    return {.idle = static_cast<float>(std::exp(chain.idle_loss.log_median)),
            .frost = static_cast<float>(std::exp(chain.seedling_frost.log_median))};
  }

  void learn_standing() {
    const ChainRate& rate = chain.shared(Rung::standing);
    std::vector<evidence::RateLikelihood> batches;
    std::vector<DrawName> names;
    double counted = 0;
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      std::vector<AtRisk> stretches = at_risk(i);
      if (stretches.empty()) continue;
      counted += stretches.front().number;
      names.push_back(batch_of_sowing(rate, i + 1, goal.sown[i].on));
      batches.push_back(standing_likelihood(std::move(stretches)));
    }
    add_rate(rate, goal.rates[Rung::standing], std::move(batches), std::move(names), counted);
  }

  void learn_readiness() {
    std::vector<evidence::ReadinessFit::Tray> trays;
    int counted = 0;
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      if (observed.sowings[i].tray.empty()) continue;
      evidence::ReadinessFit::Tray tray;
      constexpr int kDaysTogether = 3;  // of emergence, as one cohort
      const std::vector<double>& up = emerged_by_day[i];
      for (std::size_t d = 0; d < up.size(); d += kDaysTogether) {
        double share = 0;
        double clock = 0;
        for (std::size_t k = d; k < std::min(d + kDaysTogether, up.size()); ++k) {
          share += up[k];
          clock += up[k] * clocks.ripening[static_cast<std::size_t>(sown_day(i)) + k + 1];
        }
        constexpr double kFew = 1e-5;
        if (share > kFew) tray.cohorts.push_back({clock / share, share});
      }
      int most = 0;
      for (const TrayLook& look : observed.sowings[i].tray) {
        tray.looks.push_back(look.at(clocks.ripening[static_cast<std::size_t>(clocks.day(look.on))]));
        most = std::max(most, std::accumulate(look.signs.begin(), look.signs.end(), 0));
      }
      if (tray.cohorts.empty()) continue;
      trays.push_back(std::move(tray));
      counted += most;
    }
    if (trays.empty()) return;
    evidence::RipeningBelief belief{.time = quantity_of(chain.ripening_time),
                                    .spread = quantity_of(chain.ripening_spread),
                                    .turning = kTurningPart,
                                    .faded = std::exp(chain.window_end.log_median - chain.ripening_time.log_median),
                                    .misreading = evidence::read_as_neighbour(kMisreadSigns)};
    made.readiness = ReadinessPiece{
        evidence::ReadinessFit(belief, trays), {chain.ripening_time.draw, chain.ripening_spread.draw}, counted};
  }

  void learn_sessions() {
    const ChainRate& rate = chain.shared(Rung::usable);
    std::map<Date, std::pair<double, double>> by_day;
    for (const SeenSession& session : observed.sessions) {
      by_day[session.on].first += session.good;
      by_day[session.on].second += session.of;
    }
    std::vector<evidence::RateLikelihood> batches;
    std::vector<DrawName> names;
    double counted = 0;
    for (const auto& [day, counts] : by_day) {
      counted += counts.second;
      names.push_back(batch_of_day(rate, day));
      batches.push_back(evidence::binomial_likelihood(std::min(counts.first, counts.second), counts.second));
    }
    add_rate(rate, goal.rates[Rung::usable], std::move(batches), std::move(names), counted);
  }

  /// The mean log odds of take that their ripeness gave those struck, against the middle of the window: in the middle
  /// of the beliefs, of those in the tray that had opened, the ripest first.
  [[nodiscard]] double ripeness_offset(const SeenStrike& strike) const {
    const double edge = std::min(chain.edge_odds.log_median, 0.0);
    if (edge == 0 || !strike.sowing || *strike.sowing >= observed.sowings.size()) return edge / 3;
    const std::size_t i = *strike.sowing;
    double log_median = chain.ripening_time.log_median;
    double log_spread = chain.ripening_spread.log_median;
    if (made.readiness) {
      const evidence::Posterior& posterior = made.readiness->fit.posterior();
      log_median += chain.ripening_time.log_sd * posterior.mean(evidence::ReadinessFit::kTime);
      log_spread += chain.ripening_spread.log_sd * posterior.mean(evidence::ReadinessFit::kSpread);
    }
    TraySeen tray;
    for (const TrayLook& look : observed.sowings[i].tray) {
      if (look.on < strike.on && look.taken > 0) tray.looks.push_back({clocks.day(look.on), look.shares_taken()});
    }
    Timing timing{};
    timing.ripening_log_median = static_cast<float>(log_median);
    timing.ripening_spread = static_cast<float>(std::exp(log_spread));
    const double ratio = std::max(std::exp(chain.window_end.log_median - log_median), 1.05);
    timing.window_ratio = static_cast<float>(ratio);
    const std::vector<float> ripening(clocks.ripening.begin(), clocks.ripening.end());
    TrayLeft left(tray);
    left.begin(ripening.data(), timing);
    const std::vector<double>& up = emerged_by_day[i];
    const int day = clocks.day(strike.on);
    std::vector<double> gained;
    for (std::size_t d = 0; d < up.size() && sown_day(i) + static_cast<int>(d) + 1 < day; ++d) {
      const double born = clocks.ripening[static_cast<std::size_t>(sown_day(i)) + d + 1];
      left.add(static_cast<float>(born), timing.ripening_spread, static_cast<float>(up[d]));
      gained.push_back(clocks.ripening[static_cast<std::size_t>(day)] - born);
    }
    left.finish();
    const Ripeness ripe{log_median, static_cast<double>(timing.ripening_spread), ratio, edge};
    Mean odds;
    for (std::size_t c = 0; c < gained.size(); ++c) {
      if (gained[c] > 0) add_odds_of_open(left, c, gained[c], up[c], ripe, odds);
    }
    return odds.weight > 0 ? odds.sum / odds.weight : edge / 3;
  }

  void learn_rooting() {
    if (observed.strikes.empty()) return;
    LongRunShares takes;
    std::vector<DrawName> names;
    std::vector<double> spreads;
    for (std::size_t j = 0; j < observed.strikes.size(); ++j) {
      const SeenStrike& strike = observed.strikes[j];
      const ChainRate& take = chain.of_want(Rung::take, strike.want);
      evidence::BatchSeen batch = evidence::batch_seen(strike.struck, rooting_looks(strike, strike.rooted),
                                                       losses(strike), rooting_looks(strike, strike.lifted));
      if (!strike.rooted.empty()) batch.age = static_cast<double>((strike.rooted.back().on - strike.on).count());
      batch.offset = ripeness_offset(strike);
      const bool is_looked_at = !strike.rooted.empty() || !strike.lifted.empty();
      batch.share = takes.place_of(take.draw, goal.wants[strike.want].take, is_looked_at ? strike.struck : 0);
      DrawName name = batch_of_day(take, strike.on);
      name.owner = mixed_bits(name.owner + j + 1);  // strikes of one day have effects of their own here
      names.push_back(name);
      spreads.push_back(take.batch_spread);
      made.rooting_seen.push_back(std::move(batch));
    }
    const evidence::CureBelief belief{.share = takes.beliefs.front(),
                                      .others = takes.other_beliefs(),
                                      .time = quantity_of(chain.rooting_time),
                                      .spread = quantity_of(chain.rooting_spread),
                                      .failure_half_life = quantity_of(chain.failure_half_life)};
    made.cures.push_back(
        {{evidence::CureFit(belief, made.rooting_seen),
          {takes.draws.front(), chain.failure_half_life.draw, chain.rooting_time.draw, chain.rooting_spread.draw},
          takes.counted_in_all()},
         takes.other_draws(),
         takes.counted,
         std::move(names),
         std::move(spreads),
         true});
  }
  /// In days of age; those of one look died since the one before.
  [[nodiscard]] static std::vector<evidence::BatchSeen::Lost> losses(const SeenStrike& strike) {
    std::vector<evidence::BatchSeen::Lost> lost;
    double after = 0;
    for (const SeenLoss& loss : strike.lost) {
      const auto age = static_cast<double>((loss.on - strike.on).count());
      if (loss.number > 0) lost.push_back({after, std::max(age, after + 1), static_cast<double>(loss.number)});
      after = std::max(age, after);
    }
    return lost;
  }
  [[nodiscard]] std::vector<evidence::Look> rooting_looks(const SeenStrike& strike,
                                                          const std::vector<SeenCount>& counts) const {
    std::vector<evidence::Look> looks;
    for (const SeenCount& count : counts) {
      const double at = Clocks::between(clocks.rooting, clocks.day(strike.on), clocks.day(count.on));
      if (at > 0) looks.push_back({at, count.good, count.of});
    }
    return looks;
  }

  void learn_after_rooting() {
    std::map<Date, std::pair<double, double>> weaned;
    std::pair<double, double> wintered;
    std::map<DrawName, std::pair<double, double>> graded;
    const auto add = [](std::pair<double, double>& sum, const SeenCount& count) {
      sum.first += std::min(count.good, count.of);
      sum.second += count.of;
    };
    for (const SeenStrike& strike : observed.strikes) {
      if (strike.weaned) add(weaned[strike.on], *strike.weaned);
      if (strike.wintered) add(wintered, *strike.wintered);
      if (strike.graded) add(graded[chain.of_want(Rung::grade, strike.want).draw], *strike.graded);
    }
    std::vector<evidence::RateLikelihood> batches;
    std::vector<DrawName> names;
    double counted = 0;
    for (const auto& [day, counts] : weaned) {
      counted += counts.second;
      const ChainRate& rate = chain.shared(Rung::weaning);
      names.push_back(batch_of_day(rate, day));
      batches.push_back(evidence::binomial_likelihood(counts.first, counts.second));
    }
    add_rate(chain.shared(Rung::weaning), goal.rates[Rung::weaning], std::move(batches), std::move(names), counted);
    if (wintered.second > 0) {
      const ChainRate& rate = chain.shared(Rung::winter);
      add_rate(rate, goal.rates[Rung::winter], {evidence::binomial_likelihood(wintered.first, wintered.second)},
               {rate.batch}, wintered.second);
    }
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const ChainRate& rate = chain.of_want(Rung::grade, w);
      const auto counts = graded.extract(rate.draw);  // once for wants that share it
      if (counts.empty()) continue;
      add_rate(rate, goal.wants[w].grade,
               {evidence::binomial_likelihood(counts.mapped().first, counts.mapped().second)}, {rate.batch},
               counts.mapped().second);
    }
  }

  void add_rate(const ChainRate& rate, const RateBelief& belief, std::vector<evidence::RateLikelihood> batches,
                std::vector<DrawName> names, double counted) {
    if (batches.empty() || rate.known()) return;
    made.rates.push_back({{evidence::RateFit(belief, std::move(batches)), {rate.draw}, static_cast<int>(counted)},
                          std::move(names),
                          rate.batch_spread});
  }

  const Goal& goal;
  const Chain& chain;
  const ThermalSums& sums;
  Clocks clocks;
  const Observed& observed;
  std::vector<evidence::BatchSeen> emergence_seen;  ///< [sowing]
  std::vector<std::vector<double>> emerged_by_day;  ///< [sowing][day - sown], until today
};

}  // namespace

LearntPieces learnt_pieces(const Setting& setting, const Observed& seen) { return Learning(setting, seen).made; }

}  // namespace strikebed::season
