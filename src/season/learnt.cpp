#include "season/learnt.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <numeric>
#include <optional>
#include <span>
#include <utility>

#include "base/random.hpp"
#include "evidence/cure_model.hpp"
#include "evidence/looks.hpp"
#include "evidence/rate_curve.hpp"
#include "evidence/rate_fit.hpp"
#include "evidence/readiness.hpp"
#include "growth/stages.hpp"
#include "season/offers.hpp"

namespace strikebed::season {
namespace {

using evidence::kSigns;

/// Age by which half of the cuttings that will never root have died: practice has no figures; a guess (trust C).
constexpr Quantity kFailureHalfLife_days{28, 14, 56};
/// Draws of it, which nothing else needs.
constexpr DrawName kFailures{.quantity = ChainQuantity::take, .owner = 0xfa11};

/// The usual season's clocks, at the start of each day.
struct Clocks {
  explicit Clocks(const ThermalSums& sums)
      : first(sums.first),
        days(sums.days),
        germination(sums.germination.usual(std::min(sums.seasons, kUsualSeasons))),
        ripening(sums.ripening.usual(std::min(sums.seasons, kUsualSeasons))),
        rooting(sums.rooting.usual(std::min(sums.seasons, kUsualSeasons))) {}

  [[nodiscard]] int day(Date date) const { return std::clamp(static_cast<int>((date - first).count()), 0, days); }
  [[nodiscard]] static double between(const std::vector<double>& clock, int from, int to) {
    return to > from ? clock[static_cast<std::size_t>(to)] - clock[static_cast<std::size_t>(from)] : 0;
  }

  Date first;
  int days;
  std::vector<double> germination, ripening, rooting;
};

/// A timing as the fits believe it.
Quantity quantity_of(const ChainTiming& timing, double factor = 1) {
  const double value = std::exp(timing.log_median) * factor;
  const double range = std::exp(kScore95 * timing.log_sd);
  return {value, value / range, value * range};
}

bool is_all(const SeenCount& count, int number) { return count.of >= number; }

/// How many of a sowing were ever seen up, and by the morning of which day; nothing: they were never all counted.
struct Up {
  int number = 0;
  int by = 0;  ///< day
};
std::optional<Up> seen_up(const SeenSowing& sowing, int seeds, const Clocks& clocks) {
  std::optional<Up> up;
  const auto at_least = [&](int number, Date on) {
    if (!up || number >= up->number) up = Up{std::clamp(number, 0, seeds), clocks.day(on)};
  };
  for (const SeenCount& look : sowing.emerged) {
    if (is_all(look, seeds)) at_least(look.good, look.on);
  }
  int gone = 0;
  for (const TrayLook& look : sowing.tray) {
    gone += look.lost;
    if (!up || look.standing + gone > up->number) at_least(look.standing + gone, look.on);
    gone += look.taken;
  }
  return up;
}

evidence::SignLook sign_look(const TrayLook& look, double clock) {
  return {.clock = clock, .seen = look.signs, .standing = look.standing, .cut = look.taken, .lost = look.lost};
}

int counted(const evidence::SignCounts& signs) { return std::accumulate(signs.begin(), signs.end(), 0); }

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
    if (!is_all(look, seeds) || by <= from || by > until) continue;
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
    constexpr double kFarthest = 35;
    constexpr double kLeast = 1e-9;
    const double at = std::clamp(logit, -kFarthest, kFarthest);
    const double hazard = std::log1p(std::exp(-at));  // -ln of the share that stands
    const double slope = -(1 - evidence::share_of(at));
    const double bend = evidence::share_of(at) * (1 - evidence::share_of(at));
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

/// A fit, and the names of what it is about in the order of its scores.
template <class Fit>
struct Piece {
  Fit fit;
  std::vector<DrawName> names;
};
/// A batch of a fit whose effect matters still.
struct UndecidedBatch {
  std::size_t of_fit;
  DrawName name;
  double spread;
  std::size_t share = 0;                   ///< of which long-run share of the fit
  std::optional<std::size_t> strike = {};  ///< whose take it is
  double offset = 0;                       ///< of its logit
};
struct RatePiece : Piece<evidence::RateFit> {
  std::vector<UndecidedBatch> batches = {};
};
struct CurePiece : Piece<evidence::CureFit> {
  using Others = std::vector<DrawName>;
  Others others = {};  ///< shares beside the first
  std::vector<UndecidedBatch> batches = {};
};
using ReadinessPiece = Piece<evidence::ReadinessFit>;

evidence::ScorePoint means_of(const evidence::Posterior& posterior) {
  evidence::ScorePoint mean{};
  for (std::size_t d = 0; d < static_cast<std::size_t>(posterior.dimensions()); ++d) mean[d] = posterior.mean(d);
  return mean;
}

DrawName batch_on(const ChainRate& rate, Date day) {
  DrawName name = rate.batch;
  name.day = day;
  return name;
}

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

  std::vector<CurePiece> cures;  ///< emergence, rooting
  std::vector<RatePiece> rates;
  std::optional<ReadinessPiece> readiness;
  std::vector<evidence::BatchSeen> rooting_seen;  ///< [strike]

 private:
  [[nodiscard]] int sown_day(std::size_t i) const { return clocks.day(goal.sown[i].on); }
  [[nodiscard]] int today() const { return clocks.day(goal.today); }

  void learn_emergence() {
    if (observed.sowings.empty()) return;
    std::vector<std::size_t> of_lots;  ///< a sowing of each
    std::vector<std::size_t> lot_of(observed.sowings.size());
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      std::vector<evidence::Look> looks;
      for (const SeenCount& look : observed.sowings[i].emerged) {
        const double at = Clocks::between(clocks.germination, sown_day(i), clocks.day(look.on));
        if (at > 0) looks.push_back({at, look.good, look.of});
      }
      const auto same_lot =
          std::ranges::find(of_lots, germination(i).draw, [&](std::size_t k) { return germination(k).draw; });
      lot_of[i] = static_cast<std::size_t>(same_lot - of_lots.begin());
      if (same_lot == of_lots.end()) of_lots.push_back(i);
      evidence::BatchSeen batch = evidence::batch_seen(goal.sown[i].seeds, looks);
      batch.time_factor = std::exp(static_cast<double>(chain.slowing[i + 1].log_time));
      batch.spread_factor = static_cast<double>(chain.slowing[i + 1].spread);
      batch.share = lot_of[i];
      emergence_seen.push_back(std::move(batch));
    }
    evidence::CureBelief belief{.share = goal.sown[of_lots.front()].germination,
                                .time = quantity_of(chain.germination_time),
                                .spread = quantity_of(chain.germination_spread),
                                .delay = quantity_of(chain.cover_time)};
    CurePiece::Others others;
    for (const std::size_t i : std::span(of_lots).subspan(1)) {
      belief.others.push_back(goal.sown[i].germination);
      others.push_back(germination(i).draw);
    }
    evidence::CureFit fit(belief, emergence_seen);
    const evidence::CurePoint middle = fit.point(means_of(fit.posterior()));
    CurePiece piece{{std::move(fit),
                     {germination(of_lots.front()).draw, chain.cover_time.draw, chain.germination_time.draw,
                      chain.germination_spread.draw}},
                    std::move(others)};
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      const double spread = germination(i).batch_spread;
      if (spread > 0 && emergence_seen[i].waiting > 0) {
        piece.batches.push_back({i, batch_of_sowing(germination(i), i + 1, goal.sown[i].on), spread, lot_of[i]});
      }
      emerged_by_day.push_back(emergence_by_day(observed.sowings[i], goal.sown[i].seeds, sown_day(i), emergence_seen[i],
                                                middle, clocks, today()));
    }
    cures.push_back(std::move(piece));
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
    std::vector<UndecidedBatch> names;
    for (std::size_t i = 0; i < observed.sowings.size(); ++i) {
      std::vector<AtRisk> stretches = at_risk(i);
      if (stretches.empty()) continue;
      names.push_back({batches.size(), batch_of_sowing(rate, i + 1, goal.sown[i].on), rate.batch_spread});
      batches.push_back(standing_likelihood(std::move(stretches)));
    }
    add_rate(rate, goal.rates[Rung::standing], std::move(batches), std::move(names));
  }

  void learn_readiness() {
    std::vector<evidence::ReadinessFit::Tray> trays;
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
      for (const TrayLook& look : observed.sowings[i].tray) {
        tray.looks.push_back(sign_look(look, clocks.ripening[static_cast<std::size_t>(clocks.day(look.on))]));
      }
      if (!tray.cohorts.empty()) trays.push_back(std::move(tray));
    }
    if (trays.empty()) return;
    evidence::RipeningBelief belief{.time = quantity_of(chain.ripening_time),
                                    .spread = quantity_of(chain.ripening_spread),
                                    .turning = kTurningPart,
                                    .faded = std::exp(chain.window_end.log_median - chain.ripening_time.log_median),
                                    .misreading = evidence::read_as_neighbour(kMisreadSigns)};
    readiness =
        ReadinessPiece{evidence::ReadinessFit(belief, trays), {chain.ripening_time.draw, chain.ripening_spread.draw}};
  }

  void learn_sessions() {
    const ChainRate& rate = chain.shared(Rung::usable);
    std::map<Date, std::pair<double, double>> by_day;
    for (const SeenSession& session : observed.sessions) {
      by_day[session.on].first += session.good;
      by_day[session.on].second += session.of;
    }
    std::vector<evidence::RateLikelihood> batches;
    for (const auto& [day, counts] : by_day) {
      batches.push_back(evidence::binomial_likelihood(std::min(counts.first, counts.second), counts.second));
    }
    add_rate(rate, goal.rates[Rung::usable], std::move(batches), {});
  }

  /// The mean log odds of take that their ripeness gave those struck, against the middle of the window: in the middle
  /// of the beliefs, of those in the tray that had opened, the ripest first.
  [[nodiscard]] double ripeness_offset(const SeenStrike& strike) const {
    const double edge = std::min(chain.edge_odds.log_median, 0.0);
    if (edge == 0 || !strike.sowing || *strike.sowing >= observed.sowings.size()) return edge / 3;
    const std::size_t i = *strike.sowing;
    double log_median = chain.ripening_time.log_median;
    double log_spread = chain.ripening_spread.log_median;
    if (readiness) {
      const evidence::Posterior& posterior = readiness->fit.posterior();
      log_median += chain.ripening_time.log_sd * posterior.mean(evidence::ReadinessFit::kTime);
      log_spread += chain.ripening_spread.log_sd * posterior.mean(evidence::ReadinessFit::kSpread);
    }
    TraySeen tray;
    for (const TrayLook& look : observed.sowings[i].tray) {
      if (look.on < strike.on && look.taken > 0)
        tray.looks.push_back({clocks.day(look.on), evidence::shares_cut(sign_look(look, 0))});
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
    constexpr int kPlaces = 16;
    double all = 0;
    double odds = 0;
    for (std::size_t c = 0; c < gained.size(); ++c) {
      if (gained[c] <= 0) continue;
      std::array<float, kPlaces + 1> demand{};
      std::array<float, kPlaces + 1> share{};
      for (int k = 0; k <= kPlaces; ++k) {  // from closing to opening
        demand[static_cast<std::size_t>(k)] = static_cast<float>(gained[c] / (ratio - (ratio - 1) * k / kPlaces));
      }
      for (std::size_t k = 0; k < share.size(); ++k) {
        share[k] = static_cast<float>(normal_share_below((std::log(static_cast<double>(demand[k])) - log_median) /
                                                         static_cast<double>(timing.ripening_spread)));
      }
      left.turn(c, demand, share);
      for (std::size_t k = 0; k < kPlaces; ++k) {
        const double place = (gained[c] / (0.5 * static_cast<double>(demand[k] + demand[k + 1])) - 1) / (ratio - 1);
        const double part = up[c] * static_cast<double>(share[k + 1] - share[k]);
        all += part;
        odds += part * growth::take_log_odds(place, edge);
      }
    }
    return all > 0 ? odds / all : edge / 3;
  }

  void learn_rooting() {
    if (observed.strikes.empty()) return;
    std::vector<std::size_t> of_takes;  ///< a strike of each
    std::vector<UndecidedBatch> names;
    const auto take = [&](std::size_t j) -> const ChainRate& {
      return chain.of_want(Rung::take, observed.strikes[j].want);
    };
    for (std::size_t j = 0; j < observed.strikes.size(); ++j) {
      const SeenStrike& strike = observed.strikes[j];
      const auto same = std::ranges::find(of_takes, take(j).draw, [&](std::size_t k) { return take(k).draw; });
      const auto share = static_cast<std::size_t>(same - of_takes.begin());
      if (same == of_takes.end()) of_takes.push_back(j);
      evidence::BatchSeen batch = evidence::batch_seen(strike.struck, rooting_looks(strike, strike.rooted), strike.lost,
                                                       rooting_looks(strike, strike.lifted));
      if (!strike.rooted.empty()) batch.age = static_cast<double>((strike.rooted.back().on - strike.on).count());
      batch.offset = ripeness_offset(strike);
      batch.share = share;
      DrawName name = batch_on(take(j), strike.on);
      name.owner = mixed_bits(name.owner + j + 1);  // strikes of one day have effects of their own here
      names.push_back({j, name, take(j).batch_spread, share, j, batch.offset});
      rooting_seen.push_back(std::move(batch));
    }
    evidence::CureBelief belief{.share = goal.wants[observed.strikes[of_takes.front()].want].take,
                                .time = quantity_of(chain.rooting_time),
                                .spread = quantity_of(chain.rooting_spread),
                                .failure_half_life = kFailureHalfLife_days};
    CurePiece::Others others;
    for (const std::size_t j : std::span(of_takes).subspan(1)) {
      belief.others.push_back(goal.wants[observed.strikes[j].want].take);
      others.push_back(take(j).draw);
    }
    cures.push_back({{evidence::CureFit(belief, rooting_seen),
                      {take(of_takes.front()).draw, kFailures, chain.rooting_time.draw, chain.rooting_spread.draw}},
                     std::move(others),
                     std::move(names)});
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
    std::vector<UndecidedBatch> names;
    for (const auto& [day, counts] : weaned) {
      const ChainRate& rate = chain.shared(Rung::weaning);
      names.push_back({batches.size(), batch_on(rate, day), rate.batch_spread});
      batches.push_back(evidence::binomial_likelihood(counts.first, counts.second));
    }
    add_rate(chain.shared(Rung::weaning), goal.rates[Rung::weaning], std::move(batches), std::move(names));
    if (wintered.second > 0) {
      const ChainRate& rate = chain.shared(Rung::winter);
      add_rate(rate, goal.rates[Rung::winter], {evidence::binomial_likelihood(wintered.first, wintered.second)},
               {{0, rate.batch, rate.batch_spread}});
    }
    for (std::size_t w = 0; w < goal.wants.size(); ++w) {
      const ChainRate& rate = chain.of_want(Rung::grade, w);
      const auto counts = graded.extract(rate.draw);  // once for wants that share it
      if (counts.empty()) continue;
      add_rate(rate, goal.wants[w].grade,
               {evidence::binomial_likelihood(counts.mapped().first, counts.mapped().second)},
               {{0, rate.batch, rate.batch_spread}});
    }
  }

  void add_rate(const ChainRate& rate, const RateBelief& belief, std::vector<evidence::RateLikelihood> batches,
                std::vector<UndecidedBatch> names) {
    if (batches.empty() || rate.known()) return;
    if (rate.batch_spread == 0) names.clear();
    rates.push_back({{evidence::RateFit(belief, std::move(batches)), {rate.draw}}, std::move(names)});
  }

  const Goal& goal;
  const Chain& chain;
  const ThermalSums& sums;
  Clocks clocks;
  const Observed& observed;
  std::vector<evidence::BatchSeen> emergence_seen;  ///< [sowing]
  std::vector<std::vector<double>> emerged_by_day;  ///< [sowing][day - sown], until today
};

/// Scores of the prior, and where the moved ones are written.
class Moved {
 public:
  Moved(const std::vector<DrawName>& names, const Futures& futures, Draws& draws) {
    for (const DrawName& name : names) {
      prior_.push_back(futures.scores(name));
      to_.push_back(&draws.scores.try_emplace(name, static_cast<std::size_t>(futures.count())).first->second);
    }
  }
  [[nodiscard]] double normal(std::size_t i, std::size_t future) const {
    return static_cast<double>((*prior_[i])[future]);
  }
  [[nodiscard]] evidence::ScorePoint normal(std::size_t future) const {
    evidence::ScorePoint point{};
    for (std::size_t i = 0; i < prior_.size(); ++i) point[i] = normal(i, future);
    return point;
  }
  void write(std::size_t i, std::size_t future, double score) const { (*to_[i])[future] = static_cast<float>(score); }
  void write(std::size_t future, const evidence::ScorePoint& scores) const {
    for (std::size_t i = 0; i < to_.size(); ++i) write(i, future, scores[i]);
  }

 private:
  std::vector<Scores> prior_;
  std::vector<std::vector<float>*> to_;
};

std::vector<DrawName> names_of(const std::vector<UndecidedBatch>& batches) {
  std::vector<DrawName> names;
  for (const UndecidedBatch& batch : batches) names.push_back(batch.name);
  return names;
}

/// Draws piece after piece, in all futures.
class Drawing {
 public:
  Drawing(const Futures& prior, const Workers& workers) : prior_(prior), workers_(workers) {
    draws_.log_weights.assign(static_cast<std::size_t>(prior.count()), 0);
  }

  void draw(const CurePiece& piece, std::vector<StrikeDraws>& strikes) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved others(piece.others, prior_, draws_);
    const Moved effects(names_of(piece.batches), prior_, draws_);
    in_each_future([&](std::size_t f) {
      const evidence::ScorePoint at = drawn(piece.fit.posterior(), scores, f);
      std::vector<double> logits{piece.fit.point(at).share_logit};  // in the long run
      for (std::size_t i = 0; i < piece.others.size(); ++i) {
        const evidence::CureFit::OtherShare other = piece.fit.other_share(i + 1, at, others.normal(i, f));
        others.write(i, f, other.score);
        logits.push_back(other.logit);
        draws_.log_weights[f] += other.log_weight;
      }
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        const UndecidedBatch& batch = piece.batches[b];
        const double common = logits[batch.share];
        const auto [logit, log_weight] = piece.fit.batch_logit(batch.of_fit, at, common, effects.normal(b, f));
        draws_.log_weights[f] += log_weight;
        effects.write(b, f, batch.spread > 0 ? (logit - common - batch.offset) / batch.spread : 0);
        if (!batch.strike) continue;
        strikes[*batch.strike].take_logit[f] = static_cast<float>(logit);
        strikes[*batch.strike].failure_half_life[f] = static_cast<float>(piece.fit.point(at).failure_half_life);
      }
    });
  }
  void draw(const RatePiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    const Moved effects(names_of(piece.batches), prior_, draws_);
    in_each_future([&](std::size_t f) {
      const double score = drawn(piece.fit.posterior(), scores, f)[0];
      const double common = piece.fit.long_run_logit(score);
      for (std::size_t b = 0; b < piece.batches.size(); ++b) {
        const UndecidedBatch& batch = piece.batches[b];
        const auto [logit, log_weight] = piece.fit.batch_logit(batch.of_fit, score, effects.normal(b, f));
        draws_.log_weights[f] += log_weight;
        effects.write(b, f, (logit - common) / batch.spread);
      }
    });
  }
  void draw(const ReadinessPiece& piece) {
    const Moved scores(piece.names, prior_, draws_);
    in_each_future([&](std::size_t f) { drawn(piece.fit.posterior(), scores, f); });
  }

  [[nodiscard]] Futures futures() { return prior_.with(std::move(draws_)); }

 private:
  evidence::ScorePoint drawn(const evidence::Posterior& posterior, const Moved& scores, std::size_t f) {
    const evidence::WeightedPoint point = posterior.near(scores.normal(f));
    scores.write(f, point.scores);
    draws_.log_weights[f] += point.log_weight;
    return point.scores;
  }
  void in_each_future(const std::function<void(std::size_t)>& draw) const {
    in_blocks(workers_, prior_.count(), [&](int begin, int end) {
      for (int f = begin; f < end; ++f) draw(static_cast<std::size_t>(f));
    });
  }

  const Futures& prior_;
  const Workers& workers_;
  Draws draws_;
};

}  // namespace

LearntFutures learnt_futures(const Setting& setting, const Observed& seen, const Futures& prior,
                             const Workers& workers) {
  const Learning learning(setting, seen);
  std::vector<StrikeDraws> strikes;
  for (const evidence::BatchSeen& rooting : learning.rooting_seen) {
    const std::vector<float> unset(static_cast<std::size_t>(prior.count()));
    strikes.push_back({rooting, unset, unset});
  }
  Drawing drawing(prior, workers);
  for (const CurePiece& piece : learning.cures) drawing.draw(piece, strikes);
  for (const RatePiece& piece : learning.rates) drawing.draw(piece);
  if (learning.readiness) drawing.draw(*learning.readiness);
  return {drawing.futures(), std::move(strikes)};
}

std::vector<OwnSeedlings> own_seedlings(const Goal& goal, const ThermalSums& sums, const Observed& seen) {
  const Clocks clocks(sums);
  std::vector<OwnSeedlings> own;
  for (std::size_t i = 0; i < goal.sown.size(); ++i) {
    const int seeds = goal.sown[i].seeds;
    const std::optional<Up> up = i < seen.sowings.size() ? seen_up(seen.sowings[i], seeds, clocks) : std::nullopt;
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
      standing.as_of = std::max(standing.as_of, clocks.day(look.on));
      const bool signs = counted(look.signs) > 0;
      if (look.taken == 0 && !signs) continue;
      const auto cut = evidence::shares_cut(sign_look(look, 0));
      if (signs) {
        tray.counted_at = tray.looks.size();
        tray.left = std::max(look.standing - look.taken, 0);
        for (std::size_t sign = 0; sign < kSigns; ++sign) tray.read_and_left[sign] = look.signs[sign] * (1 - cut[sign]);
      }
      tray.looks.push_back({clocks.day(look.on), cut});
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
