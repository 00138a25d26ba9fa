#include "evidence/readiness.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "base/random.hpp"
#include "base/widest_vectors.hpp"

namespace strikebed::evidence {
namespace {

using Shares = std::array<double, kSigns>;
constexpr std::array<std::size_t, kSigns> kRipestFirst{2, 3, 1, 0};

int total(const SignCounts& seen) { return std::accumulate(seen.begin(), seen.end(), 0); }

/// A look with what follows from its counts.
struct Read {
  SignLook look;
  Shares taken{};  ///< of those read as each sign, the share that was cut
};

/// Looks in order, each no more than it can be, from the first at which any are up.
std::vector<Read> in_order(const ReadinessFit::Tray& tray) {
  double first = std::numeric_limits<double>::infinity();
  for (const Cohort& cohort : tray.cohorts) first = std::min(first, cohort.clock);
  std::vector<Read> reads;
  for (const SignLook& look : tray.looks) {
    if (look.clock <= first) continue;
    reads.push_back({look, {}});
    reads.back().look.standing = std::max(look.standing, total(look.seen));
    reads.back().taken = shares_cut(reads.back().look);
  }
  std::stable_sort(reads.begin(), reads.end(),
                   [](const Read& a, const Read& b) { return a.look.clock < b.look.clock; });
  return reads;
}

/// What can be seen of one seedling, in the order of the coefficients: cut at a look; lost before a look; standing at a
/// look and read as a sign.
struct Outcomes {
  [[nodiscard]] std::size_t cut(std::size_t look) const { return look; }
  [[nodiscard]] std::size_t lost(std::size_t look) const { return looks + look; }
  [[nodiscard]] std::size_t read(std::size_t look, std::size_t sign) const { return 2 * looks + kSigns * look + sign; }
  [[nodiscard]] std::size_t count() const { return (2 + kSigns) * looks; }
  std::size_t looks;
};

/// The chances of all outcomes for a seedling that is up from look `up` on, of which the true sign at each look is
/// known.
std::vector<double> chances(const std::vector<Read>& reads, std::size_t up, const std::vector<std::size_t>& signs,
                            const Misreading& misreading) {
  const Outcomes outcomes{reads.size()};
  std::vector<double> chance(outcomes.count());
  double stays = 1;
  for (std::size_t k = up; k < reads.size(); ++k) {
    chance[outcomes.lost(k)] = stays;
    double taken = 0;
    for (std::size_t sign = 0; sign < kSigns; ++sign) {
      const double read = misreading[signs[k]][sign];
      chance[outcomes.read(k, sign)] = stays * read;
      taken += read * reads[k].taken[sign];
    }
    chance[outcomes.cut(k)] = stays * taken;
    stays *= 1 - taken;
  }
  return chance;
}

/// weight * ln(sum of the chances of some outcomes)
struct Term {
  std::vector<std::size_t> outcomes;
  double weight;
};

/// What was seen of a tray, as terms of its log-likelihood.
std::vector<Term> terms_of(const std::vector<Read>& reads) {
  const Outcomes outcomes{reads.size()};
  std::vector<Term> terms;
  const auto add = [&terms](std::vector<std::size_t> of, double weight) {
    if (weight != 0) terms.push_back({std::move(of), weight});
  };
  bool last = true;
  for (std::size_t k = reads.size(); k-- > 0;) {
    const SignLook& look = reads[k].look;
    const int seen = total(look.seen);
    const auto standing = static_cast<double>(look.standing);
    std::vector<std::size_t> any;
    for (std::size_t sign = 0; sign < kSigns; ++sign) any.push_back(outcomes.read(k, sign));
    const double weight = last || seen == 0 ? 1 : 1 - seen / standing;
    for (std::size_t sign = 0; sign < kSigns; ++sign) add({any[sign]}, weight * look.seen[sign]);
    // Those that stand at the last look have stayed till then; of an earlier one only how they part is told.
    add(any, (last ? standing : 0) - weight * seen);
    if (!last) add({outcomes.cut(k)}, look.cut);
    add({outcomes.lost(k)}, look.lost);
    last = false;
  }
  return terms;
}

/// Adds the rows of coefficients to `chance`, each times the normal share below its demand.
///   below  logarithms of the demands; then those shares
STRIKEBED_WIDEST_VECTORS
void add_shares_below(std::vector<double>& below, double log_time, double per_spread, const double* coefficients,
                      std::vector<double>& chance) {
  for (double& one : below) one = quick_normal_share_below((one - log_time) * per_spread);
  double* const to = chance.data();
  const std::size_t n = chance.size();
  for (const double share : below) {
    for (std::size_t t = 0; t < n; ++t) to[t] += coefficients[t] * share;
    coefficients += n;
  }
}

/// The log-likelihood of a tray as a function of ln median and spread: the chance of each term is a sum of normal
/// shares below the logarithms of some demands, whose coefficients do not depend on either.
class TrayLikelihood {
 public:
  TrayLikelihood(const ReadinessFit::Tray& tray, const RipeningBelief& belief) {
    const std::vector<Read> reads = in_order(tray);
    if (reads.empty()) return;
    terms_ = terms_of(reads);
    rest_.resize(terms_.size());
    double up = 0;
    for (const Cohort& cohort : tray.cohorts) up += cohort.clock < reads.back().look.clock ? cohort.share : 0;
    for (const Cohort& cohort : tray.cohorts) {
      if (cohort.clock < reads.back().look.clock && cohort.share > 0) {
        add_cohort(reads, cohort.clock, cohort.share / up, belief);
      }
    }
    sort_demands();
  }

  [[nodiscard]] double operator()(double log_time, double spread) const {
    constexpr double kLeast = 1e-9;
    constexpr double kReach = 5.3;  // beyond, a normal share is 0 or 1 within 6e-8
    const std::size_t n = terms_.size();
    const auto place_of = [&](double log_demand) {
      return std::ranges::lower_bound(log_demands_, log_demand) - log_demands_.begin();
    };
    const std::ptrdiff_t from = place_of(log_time - kReach * spread);
    const std::ptrdiff_t to = place_of(log_time + kReach * spread);
    std::vector<double> chance(all_from_.begin() + to * std::ssize(terms_),
                               all_from_.begin() + (to + 1) * std::ssize(terms_));
    std::vector<double> below(log_demands_.begin() + from, log_demands_.begin() + to);
    add_shares_below(below, log_time, 1 / spread, coefficients_.data() + from * std::ssize(terms_), chance);
    double sum = 0;
    for (std::size_t t = 0; t < n; ++t) sum += terms_[t].weight * std::log(std::max(chance[t], kLeast));
    return sum;
  }

 private:
  /// Which sign a seedling shows at each look changes only where its demand passes certain values.
  void add_cohort(const std::vector<Read>& reads, double clock, double share, const RipeningBelief& belief) {
    struct Change {
      double demand;
      std::size_t look;
    };
    std::vector<Change> changes;  // from the largest demand down, each makes the sign at one look one step riper
    std::size_t up = reads.size();
    for (std::size_t k = reads.size(); k-- > 0;) {
      const double age = reads[k].look.clock - clock;
      if (age <= 0) break;
      up = k;
      for (const double ratio : {belief.turning, 1.0, belief.faded}) changes.push_back({age / ratio, k});
    }
    std::stable_sort(changes.begin(), changes.end(),
                     [](const Change& a, const Change& b) { return a.demand > b.demand; });
    std::vector<std::size_t> signs(reads.size(), 0);
    std::vector<double> riper = term_chances(chances(reads, up, signs, belief.misreading), share);
    for (std::size_t t = 0; t < terms_.size(); ++t) rest_[t] += riper[t];
    for (const Change& change : changes) {
      ++signs[change.look];
      const std::vector<double> greener =
          std::exchange(riper, term_chances(chances(reads, up, signs, belief.misreading), share));
      log_demands_.push_back(std::log(change.demand));
      for (std::size_t t = 0; t < terms_.size(); ++t) coefficients_.push_back(riper[t] - greener[t]);
    }
  }
  /// By size, with what they come to where all from one on are met.
  void sort_demands() {
    const std::size_t n = terms_.size();
    std::vector<std::size_t> order(log_demands_.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, {}, [&](std::size_t i) { return log_demands_[i]; });
    const std::vector<double> demands = std::exchange(log_demands_, {});
    const std::vector<double> coefficients = std::exchange(coefficients_, {});
    for (const std::size_t i : order) {
      log_demands_.push_back(demands[i]);
      const auto row = coefficients.begin() + static_cast<std::ptrdiff_t>(i * n);
      coefficients_.insert(coefficients_.end(), row, row + static_cast<std::ptrdiff_t>(n));
    }
    all_from_.resize((order.size() + 1) * n);
    std::copy(rest_.begin(), rest_.end(), all_from_.end() - static_cast<std::ptrdiff_t>(n));
    for (std::size_t i = coefficients_.size(); i-- > 0;) all_from_[i] = all_from_[i + n] + coefficients_[i];
  }
  [[nodiscard]] std::vector<double> term_chances(const std::vector<double>& chances, double share) const {
    std::vector<double> sums;
    for (const Term& term : terms_) {
      sums.push_back(0);
      for (const std::size_t outcome : term.outcomes) sums.back() += share * chances[outcome];
    }
    return sums;
  }

  std::vector<Term> terms_;
  std::vector<double> rest_;  ///< [term], of seedlings too slow to show anything
  std::vector<double> log_demands_;
  std::vector<double> coefficients_;  ///< [demand][term]
  std::vector<double> all_from_;  ///< [demand, or behind the last][term]: the rest and all coefficients from there on
};

}  // namespace

Shares shares_cut(const SignLook& look) {
  Shares cut{};
  const int seen = total(look.seen);
  if (look.cut > 0 && seen == 0) cut[kRipestFirst.front()] = 1;
  double left = look.cut;
  for (const std::size_t sign : kRipestFirst) {
    if (seen == 0 || look.seen[sign] == 0) continue;
    const double there = static_cast<double>(look.standing) * look.seen[sign] / seen;
    cut[sign] = std::min(left / there, 1.0);
    left = std::max(left - there, 0.0);
  }
  return cut;
}

Misreading read_as_neighbour(double chance) {
  Misreading misreading{};
  for (std::size_t sign = 0; sign < kSigns; ++sign) {
    misreading[sign][sign] = 1 - chance;
    const bool first = sign == 0;
    const bool last = sign + 1 == kSigns;
    if (!first) misreading[sign][sign - 1] = last ? chance : chance / 2;
    if (!last) misreading[sign][sign + 1] = first ? chance : chance / 2;
  }
  return misreading;
}

struct ReadinessFit::Model {
  Model(const RipeningBelief& belief, std::span<const Tray> seen)
      : log_median(std::log(belief.time.value)),
        log_median_sd(log_sd_of(belief.time)),
        log_spread(std::log(belief.spread.value)),
        log_spread_sd(log_sd_of(belief.spread)) {
    for (const Tray& tray : seen) trays.emplace_back(tray, belief);
  }
  [[nodiscard]] double log_time(const ScorePoint& scores) const { return log_median + log_median_sd * scores[kTime]; }
  [[nodiscard]] double spread(const ScorePoint& scores) const {
    return std::exp(log_spread + log_spread_sd * scores[kSpread]);
  }

  double log_median, log_median_sd, log_spread, log_spread_sd;
  std::vector<TrayLikelihood> trays;
};

ReadinessFit::ReadinessFit(const RipeningBelief& belief, std::span<const Tray> trays)
    : model_(std::make_shared<const Model>(belief, trays)) {
  posterior_ = std::make_shared<const Posterior>(2, [model = model_](const ScorePoint& scores) {
    double sum = 0;
    for (const TrayLikelihood& tray : model->trays) sum += tray(model->log_time(scores), model->spread(scores));
    return sum;
  });
}

double ReadinessFit::log_time(const ScorePoint& scores) const { return model_->log_time(scores); }
double ReadinessFit::spread(const ScorePoint& scores) const { return model_->spread(scores); }

}  // namespace strikebed::evidence
