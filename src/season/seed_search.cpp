#include "season/seed_search.hpp"

#include <algorithm>
#include <cmath>

#include "base/random.hpp"
#include "evidence/binomial.hpp"

namespace strikebed::season {
namespace {

constexpr double kQuickTolerance = 0.004;
constexpr double kSettled = 1e-6;  // normal scores are taken of chances at least this far from 0 and 1

double score_of(double chance) { return normal_quantile(std::clamp(chance, kSettled, 1 - kSettled)); }

/// Chance of one want alone against the logarithm of the seeds that go to it.
struct WantCurve {
  std::vector<double> log_seeds;
  std::vector<double> score;

  /// Where the score is reached, by straight lines; the end of the curve when it never is.
  [[nodiscard]] double log_seeds_at(double wanted) const {
    for (std::size_t i = 1; i < score.size(); ++i) {
      if (score[i] < wanted) continue;
      const double rise = score[i] - score[i - 1];
      const double part = rise > 0 ? std::clamp((wanted - score[i - 1]) / rise, 0.0, 1.0) : 0;
      return log_seeds[i - 1] + part * (log_seeds[i] - log_seeds[i - 1]);
    }
    return log_seeds.back();
  }
};

int seeds_in(std::span<const Sowing> sowings) {
  int sown = 0;
  for (const Sowing& sowing : sowings) sown += sowing.sown.value_or(0);
  return sown;
}

/// One future as a want sees it that has all seedlings to itself, and always room.
struct AloneInFuture {
  double weight;
  double counted_a_seed;
};

/// Of the goal's own seeds and so many on top, mixed.
std::vector<AloneInFuture> futures_of_want(const Model& model, std::span<const Sowing> sowings, double on_top,
                                           std::size_t want) {
  constexpr int kEnough = 1024;
  const int stride = std::max(model.futures().count() / kEnough, 1);
  const int own = seeds_in(sowings);
  double parts = 0;
  for (const Sowing& sowing : sowings) parts += sowing.sown ? 0 : sowing.part;
  const double share_on_top = own > 0 ? on_top / (own + on_top) : 1;
  std::vector<AloneInFuture> futures;
  for (int f = 0; f < model.futures().count(); f += stride) {
    AloneInFuture future{model.futures().weight(f), 0};
    for (const Sowing& sowing : sowings) {
      const double counted = sowing->counted[want][static_cast<std::size_t>(f)];
      future.counted_a_seed +=
          sowing.sown ? counted * *sowing.sown / (own + on_top) : counted * sowing.part / parts * share_on_top;
    }
    futures.push_back(future);
  }
  return futures;
}

WantCurve want_curve(const Model& model, std::span<const Sowing> sowings, double on_top, std::size_t want) {
  constexpr int kSteps = 40;
  constexpr double kLogReach = 9.2;  // up to 10,000 seeds a plant
  constexpr double kSureEnough = 3.5;
  const std::vector<AloneInFuture> futures = futures_of_want(model, sowings, on_top, want);
  const int wanted = model.goal().wants[want].count;
  WantCurve curve;
  for (int step = 0; step <= kSteps; ++step) {
    const double log_seeds = std::log(wanted) + kLogReach * step / kSteps;
    const double seeds = std::exp(log_seeds);
    double sum = 0;
    double weights = 0;
    for (const AloneInFuture& future : futures) {
      const double mean = seeds * future.counted_a_seed;
      const double variance = mean * (1 - future.counted_a_seed / model.wants());
      sum += future.weight * evidence::quick_chance_at_least(wanted, mean, variance);
      weights += future.weight;
    }
    curve.log_seeds.push_back(log_seeds);
    curve.score.push_back(score_of(sum / weights));
    if (curve.score.back() > kSureEnough) break;
  }
  return curve;
}

/// Shares that give more to the wants that are less sure, by how far each is from the usual score.
std::vector<double> fairer(std::vector<double> shares, std::span<const double> by_want,
                           std::span<const double> log_seeds_per_score) {
  double usual = 0;
  for (const double chance : by_want) usual += score_of(chance) / static_cast<double>(by_want.size());
  double sum = 0;
  for (std::size_t w = 0; w < shares.size(); ++w) {
    shares[w] *= std::exp(std::clamp((usual - score_of(by_want[w])) * log_seeds_per_score[w], -0.7, 0.7));
    sum += shares[w];
  }
  for (double& share : shares) share /= sum;
  return shares;
}

/// Fair shares of the goal's own seeds and so many on top, mixed.
FairShares shares_with(const Model& model, std::span<const Sowing> sowings, double on_top, double level) {
  const auto n = static_cast<std::size_t>(model.wants());
  FairShares fair;
  std::vector<WantCurve> curves;
  double score = score_of(level);
  for (std::size_t w = 0; w < n; ++w) {
    curves.push_back(want_curve(model, sowings, on_top, w));
    score = std::min(score, curves.back().score.back() - 0.05);
  }
  std::vector<double> seeds(n);
  for (std::size_t w = 0; w < n; ++w) {
    const double log_seeds = curves[w].log_seeds_at(score);
    seeds[w] = std::exp(log_seeds);
    fair.seeds += seeds[w];
    fair.log_seeds_per_score.push_back((curves[w].log_seeds_at(score + 0.05) - curves[w].log_seeds_at(score - 0.05)) /
                                       0.1);
  }
  for (std::size_t w = 0; w < n; ++w) fair.shares.push_back(seeds[w] / fair.seeds);
  return fair;
}

}  // namespace

std::optional<int> smallest_seeds(const std::function<double(int)>& chance, double target, int start, int limit,
                                  double tolerance) {
  int low = 0;  // not enough (0 seeds never are)
  double low_score = -5;
  int high = std::clamp(start, 1, limit);
  double at_high = chance(high);
  double stride = std::max(tolerance > 0 ? 0.1 : 0.001, 1.0 / high);  // relative; doubled at every step
  if (at_high >= target) {
    while (high > 1) {
      const int next = std::clamp(static_cast<int>(std::lround(high / (1 + stride))), 1, high - 1);
      const double at_next = chance(next);
      if (at_next < target) {
        low = next;
        low_score = score_of(at_next);
        break;
      }
      high = next;
      at_high = at_next;
      stride *= 2;
    }
  } else {
    constexpr int kTriesBeforeTheLast = 2;
    for (int tries = 0; at_high < target; ++tries) {
      if (high >= limit) return std::nullopt;
      if (tries == kTriesBeforeTheLast && chance(limit) < target) return std::nullopt;  // out of reach
      low = high;
      low_score = score_of(at_high);
      high = static_cast<int>(std::min(std::ceil(high * (1 + stride)), static_cast<double>(limit)));
      stride = std::min(stride * 2, 10.0);
      at_high = chance(high);
    }
  }
  double high_score = score_of(at_high);
  const double target_score = score_of(target);
  for (int round = 0; high - low > std::max(1.0, tolerance * low); ++round) {
    // Normal scores run nearly straight against the logarithm of seeds; every third step halves, for safety.
    double next = std::sqrt(static_cast<double>(std::max(low, 1)) * high);
    if (round % 3 != 2 && low > 0 && high_score > low_score) {
      const double part = std::clamp((target_score - low_score) / (high_score - low_score), 0.02, 0.98);
      next = std::exp(std::log(low) + part * (std::log(high) - std::log(low)));
    }
    const int middle = std::clamp(static_cast<int>(std::lround(next)), low + 1, high - 1);
    const double at_middle = chance(middle);
    if (at_middle >= target) {
      high = middle;
      high_score = score_of(at_middle);
    } else {
      low = middle;
      low_score = score_of(at_middle);
    }
  }
  return high;
}

FairShares fair_shares(const Model& model, std::span<const Sowing> sowings, double level) {
  const int own = seeds_in(sowings);
  if (own == 0) return shares_with(model, sowings, 1, level);
  // How much comes on top hangs on how good the goal's own seeds are, and the mixture on how much comes on top.
  double on_top = 0;
  FairShares fair;
  for (int round = 0; round < 3; ++round) {
    fair = shares_with(model, sowings, on_top, level);
    on_top = std::max(fair.seeds - own, 0.0);
  }
  fair.seeds = on_top;
  return fair;
}

int sensible_seeds(const Goal& goal) {
  constexpr int kAtLeast = 2000;
  long wanted = 0;
  for (const Want& want : goal.wants) wanted += want.count;
  return static_cast<int>(std::clamp<long>(wanted * kSensiblePerPlant, kAtLeast, kMostSeeds));
}

std::optional<int> seeds_for(const Model& model, std::span<const Sowing> sowings, double target,
                             std::span<const double> shares, int start, int limit) {
  const auto chance = [&](int seeds) { return model.assurance(sowings, seeds, shares).chance; };
  if (seeds_in(sowings) > 0 && chance(0) >= target) return 0;
  return smallest_seeds(chance, target, start, limit, kQuickTolerance);
}

SeedAnswer seeds_for(const Model& model, std::span<const Sowing> sowings, double target, int limit,
                     Precision precision) {
  const FairShares fair = fair_shares(model, sowings, target);
  SeedAnswer answer;
  answer.shares = fair.shares;
  int start = static_cast<int>(std::clamp(fair.seeds, 1.0, static_cast<double>(limit)));
  const auto quick_seeds = [&](std::span<const double> shares) {
    return seeds_for(model, sowings, target, shares, start, limit);
  };
  if (precision == Precision::quick) {
    answer.seeds = quick_seeds(answer.shares);
  } else {
    // The guess knows nothing of room, so a round may also do worse than the one before; the best is kept.
    const int rounds = model.wants() > 1 ? 3 : 1;
    std::vector<double> shares = answer.shares;
    Assurance now;
    int fewest = limit;
    double most = -1;
    for (int round = 0; round < rounds; ++round) {
      if (round > 0) shares = fairer(shares, now.by_want, fair.log_seeds_per_score);
      const int seeds = quick_seeds(shares).value_or(limit);
      now = model.assurance(sowings, seeds, shares);
      if (seeds <= fewest * (1 + kQuickTolerance) && (seeds < limit || now.chance > most)) {
        answer.shares = shares;
        start = fewest = seeds;
        most = now.chance;
      }
    }
    const auto chance = [&](Precision wanted) {
      return [&, wanted](int seeds) { return model.assurance(sowings, seeds, answer.shares, wanted).chance; };
    };
    if (seeds_in(sowings) > 0 && chance(Precision::exact)(0) >= target) {
      answer.seeds = 0;
    } else {
      start = smallest_seeds(chance(Precision::quick), target, start, limit, 0).value_or(limit);
      answer.seeds = smallest_seeds(chance(Precision::exact), target, start, limit, 0);
    }
  }
  answer.best_chance =
      answer.seeds
          ? target
          : model.assurance(sowings, std::min(limit, sensible_seeds(model.goal())), answer.shares, precision).chance;
  return answer;
}

}  // namespace strikebed::season
