// How sure: from what is struck to the chance that all wants are met, future by future.
#include <algorithm>
#include <cmath>
#include <limits>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "season/bench_walk.hpp"
#include "season/model.hpp"

namespace strikebed::season {
namespace {

constexpr double kSurelyOver = 6;   // sds (and plants) over what is wanted: met, whatever comes
constexpr double kSettled = 1e-12;  // a chance this near to 0 or 1 is 0 or 1

double normal_density(double z) { return 0.39894228040143268 * std::exp(-0.5 * z * z); }

/// P(A and B) for two counts with chances a and b that are nearly normal with a small correlation: the first terms of
/// the tetrachoric series (Pearson 1900).
double both(double a, double b, double correlation) {
  if (a < kSettled || b < kSettled) return 0;
  if (a > 1 - kSettled || b > 1 - kSettled || correlation == 0) return a * b;
  const double x = normal_quantile(a);
  const double y = normal_quantile(b);
  const double r = correlation;
  const double series = r + r * r / 2 * x * y + r * r * r / 6 * (x * x - 1) * (y * y - 1);
  return std::clamp(a * b + normal_density(x) * normal_density(y) * series, 0.0, std::min(a, b));
}

/// So many tries, each with its own chance of counting for each want.
void add_tries(double tries, std::span<const double> chance, Model::Counted& counted) {
  for (std::size_t w = 0; w < chance.size(); ++w) {
    counted.mean[w] += tries * chance[w];
    counted.variance[w] += tries * chance[w] * (1 - chance[w]);
    for (std::size_t v = 0; v < w; ++v) counted.covariance[w][v] -= tries * chance[w] * chance[v];
  }
}

bool surely_met(const Goal& goal, const Model::Counted& counted) {
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    const double over = counted.mean[w] - goal.wants[w].count;
    if (over < kSurelyOver || over * over < kSurelyOver * kSurelyOver * counted.variance[w]) return false;
  }
  return true;
}

}  // namespace

std::vector<int> split_seeds(int seeds, std::span<const Sowing> sowings) {
  double parts = 0;
  for (const Sowing& sowing : sowings) parts += sowing.sown ? 0 : sowing.part;
  std::vector<int> split;
  int left = seeds;
  for (const Sowing& sowing : sowings) {
    split.push_back(sowing.sown.value_or(parts > 0 ? static_cast<int>(std::floor(seeds * (sowing.part / parts))) : 0));
    if (!sowing.sown) left -= split.back();
  }
  while (left > 0 && parts > 0) {
    std::size_t next = split.size();
    for (std::size_t i = 0; i < split.size(); ++i) {
      if (sowings[i].sown) continue;
      if (next == split.size() || sowings[i].part * (split[next] + 1) > sowings[next].part * (split[i] + 1)) next = i;
    }
    ++split[next];
    --left;
  }
  return split;
}

void Model::run_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                         const std::function<void(const Cut&)>& on_cut) const {
  BenchWalk(*this, sowings, seeds).run(future, [&](const Cut& cut) {
    on_cut(cut);
    return true;
  });
}

void Model::expect_sessions(std::span<const Sowing> sowings, std::span<const int> seeds, int future,
                            const std::function<void(const Cut&)>& on_cut) const {
  if (!room_for_all(seeds)) return run_sessions(sowings, seeds, future, on_cut);
  for (std::size_t l = 0; l < sowings.size(); ++l) {
    for (int s = 0; s < sessions().count(); ++s) {
      on_cut({static_cast<int>(l), s, s, seeds[l] * static_cast<double>(sowings[l]->accepted[at(future, s)])});
    }
  }
}

bool Model::room_for_all(std::span<const int> seeds) const {
  const auto& room = goal().sessions.cuttings_at_most;
  return !room || std::ranges::all_of(seeds, [&](int sown) { return sown * static_cast<int>(seeds.size()) <= *room; });
}

Model::Counted Model::counted_with_room_for_all(std::span<const Sowing> sowings, std::span<const int> seeds,
                                                std::span<const double> shares, int future) const {
  // Every seed is one try on its own.
  Counted counted = in_pots(future);
  std::array<double, kMostWants> chance{};
  for (std::size_t l = 0; l < sowings.size(); ++l) {
    for (std::size_t w = 0; w < shares.size(); ++w) {
      chance[w] = shares[w] * sowings[l]->counted[w][static_cast<std::size_t>(future)];
    }
    add_tries(seeds[l], {chance.data(), shares.size()}, counted);
  }
  return counted;
}

Model::Counted Model::counted_in_room(Until until, std::span<const Sowing> sowings, std::span<const double> shares,
                                      int future, BenchWalk& walk) const {
  Counted counted = in_pots(future);
  std::array<double, kMostWants> chance{};
  const float* const ripening = sums().ripening.season(futures_.weather(future));
  walk.run(future, [&](const Cut& cut) {
    const Sowing& sowing = sowings[static_cast<std::size_t>(cut.sowing)];
    const std::size_t i = at(future, cut.accepted_at);
    const auto now = static_cast<double>(ripening[sessions().day[static_cast<std::size_t>(cut.session)]]);
    for (std::size_t w = 0; w < shares.size(); ++w) {
      const double one = cut.session == cut.accepted_at
                             ? static_cast<double>(sowing->success[w][i])
                             : success(static_cast<int>(w), future, cut.session, now, *sowing->offers, i);
      chance[w] = shares[w] * one;
    }
    add_tries(cut.cuttings, {chance.data(), shares.size()}, counted);
    return until == Until::season_over || !surely_met(goal(), counted);
  });
  return counted;
}

Model::Counted Model::counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                              std::span<const double> shares, int future) const {
  if (room_for_all(seeds)) return counted_with_room_for_all(sowings, seeds, shares, future);
  BenchWalk walk(*this, sowings, seeds);
  return counted_in_room(Until::season_over, sowings, shares, future, walk);
}

std::vector<Model::Counted> Model::counted(std::span<const Sowing> sowings, std::span<const int> seeds,
                                           std::span<const double> shares) const {
  std::vector<Counted> counts(static_cast<std::size_t>(futures_.count()));
  const bool roomy = room_for_all(seeds);
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    BenchWalk walk(*this, sowings, seeds);
    for (int f = begin; f < end; ++f) {
      counts[static_cast<std::size_t>(f)] = roomy ? counted_with_room_for_all(sowings, seeds, shares, f)
                                                  : counted_in_room(Until::season_over, sowings, shares, f, walk);
    }
  });
  return counts;
}

LeftAtStages Model::left_at_stages(std::span<const Sowing> sowings, std::span<const int> seeds,
                                   std::span<const double> shares, int future) const {
  constexpr double kNobody = 1e-6;
  const auto f = static_cast<std::size_t>(future);
  const float* const ripening = sums().ripening.season(futures_.weather(future));
  LeftAtStages left;
  for (std::size_t l = 0; l < sowings.size(); ++l) {
    const double germinating = seeds[l] * static_cast<double>(sowings[l]->emerging[f]);
    const double standing = germinating * static_cast<double>(sowings[l]->standing[f]);
    const auto up = static_cast<double>(sowings[l]->offers->up[f]);
    left[Stage::sown] += seeds[l];
    left[Stage::emerged] += germinating * up;
    left[Stage::standing] += standing * up;
    for (std::size_t i = at(future, 0); i < at(future + 1, 0); ++i) {
      left[Stage::offered] += standing * static_cast<double>(sowings[l]->offers->offered[i]);
    }
  }
  expect_sessions(sowings, seeds, future, [&](const Cut& cut) {
    if (!(cut.cuttings > kNobody)) return;
    const Offers& offers = *sowings[static_cast<std::size_t>(cut.sowing)]->offers;
    const std::size_t i = at(future, cut.session);
    const auto now = static_cast<double>(ripening[sessions().day[static_cast<std::size_t>(cut.session)]]);
    left[Stage::struck] += cut.cuttings;
    for (std::size_t w = 0; w < shares.size(); ++w) {
      const double rooted = cut.cuttings * shares[w] *
                            take(static_cast<int>(w), future, cut.session, now, offers, at(future, cut.accepted_at)) *
                            static_cast<double>(tables_->rooted_in_time[i]);
      const double weaned = rooted * static_cast<double>(tables_->weaned[i]);
      const double wintered = weaned * static_cast<double>(tables_->wintered[i]);
      left[Stage::rooted] += rooted;
      left[Stage::weaned] += weaned;
      left[Stage::wintered] += wintered;
      left[Stage::good] += wintered * tables_->good[w][f];
      left[Stage::counted] += wintered * tables_->after[w][f];
    }
  });
  return left;
}

LeftAtStages Model::mean_left_at_stages(std::span<const Sowing> sowings, std::span<const int> seeds,
                                        std::span<const double> shares, int futures) const {
  LeftAtStages mean;
  double weights = 0;
  for (int f = 0; f < futures; ++f) {
    const LeftAtStages left = left_at_stages(sowings, seeds, shares, f);
    weights += futures_.weight(f);
    for (const Stage stage : kStages) mean[stage] += futures_.weight(f) * left[stage];
  }
  for (const Stage stage : kStages) mean[stage] /= weights;
  return mean;
}

double Model::all_met(const Counted& counts, Precision precision, std::span<double> by_want) const {
  double joint = 1;
  for (std::size_t w = 0; w < by_want.size(); ++w) {
    const int wanted = goal().wants[w].count;
    const double quick = evidence::quick_chance_at_least(wanted, counts.mean[w], counts.variance[w]);
    by_want[w] = precision == Precision::quick || quick < kSettled || quick > 1 - kSettled
                     ? quick
                     : evidence::chance_at_least(wanted, counts.mean[w], counts.variance[w]);
    joint *= by_want[w];
  }
  // Wants compete for the same seedlings: each pair's chance is a little off the product.
  for (std::size_t w = 0; w < by_want.size() && joint > 0; ++w) {
    for (std::size_t v = 0; v < w; ++v) {
      if (by_want[w] > 1 - kSettled || by_want[v] > 1 - kSettled) continue;
      const double correlation = counts.covariance[w][v] / std::sqrt(counts.variance[w] * counts.variance[v]);
      joint *= both(by_want[w], by_want[v], correlation) / (by_want[w] * by_want[v]);
    }
  }
  return joint;
}

Assurance Model::assurance(std::span<const Sowing> sowings, int seeds, std::span<const double> shares,
                           Precision precision) const {
  const std::size_t n = shares.size();
  const std::vector<int> split = split_seeds(seeds, sowings);
  const bool roomy = room_for_all(split);
  const auto count = static_cast<std::size_t>(futures_.count());
  std::vector<double> all(count);
  std::vector<double> alone(count * n);
  in_blocks(workers_, futures_.count(), [&](int begin, int end) {
    BenchWalk walk(*this, sowings, split);
    for (int f = begin; f < end; ++f) {
      const Counted counts = roomy ? counted_with_room_for_all(sowings, split, shares, f)
                                   : counted_in_room(Until::wants_met, sowings, shares, f, walk);
      const auto future = static_cast<std::size_t>(f);
      all[future] = all_met(counts, precision, {alone.data() + future * n, n});
    }
  });
  return mean_of(all, alone);
}

Assurance Model::assurance(std::span<const Counted> counts) const {
  const auto n = static_cast<std::size_t>(wants());
  std::vector<double> all(counts.size());
  std::vector<double> alone(counts.size() * n);
  for (std::size_t f = 0; f < counts.size(); ++f) {
    all[f] = all_met(counts[f], Precision::quick, {alone.data() + f * n, n});
  }
  return mean_of(all, alone);
}

Assurance Model::mean_of(std::span<const double> all, std::span<const double> alone) const {
  const std::size_t n = alone.size() / all.size();
  Assurance assurance;
  assurance.by_want.resize(n);
  const auto replicates = static_cast<std::size_t>(futures_.replicates());
  const auto points = static_cast<std::size_t>(futures_.points());
  std::vector<double> mean(replicates);
  std::vector<double> weight(replicates);
  double weights = 0;
  for (std::size_t f = 0; f < all.size(); ++f) {
    const double w = futures_.weight(static_cast<int>(f));
    mean[f / points] += w * all[f];
    weight[f / points] += w;
    for (std::size_t v = 0; v < n; ++v) assurance.by_want[v] += w * alone[f * n + v];
  }
  for (std::size_t r = 0; r < replicates; ++r) {
    assurance.chance += mean[r];
    weights += weight[r];
  }
  assurance.chance /= weights;
  for (double& want : assurance.by_want) want /= weights;
  // Replicates of a weighted mean scatter about it as far as their weight counts (the ratio estimate's linear form).
  double squares = 0;
  for (std::size_t r = 0; r < replicates; ++r) {
    const double off = (mean[r] - assurance.chance * weight[r]) * static_cast<double>(replicates) / weights;
    squares += off * off;
  }
  if (replicates > 1) {
    assurance.error = std::sqrt(squares / static_cast<double>(replicates - 1) / static_cast<double>(replicates));
  }
  return assurance;
}

}  // namespace strikebed::season
