#pragma once
// Futures: independent draws of everything that is not known. Whatever is drawn goes by its name, never by a place in
// a list: knowing one quantity, passing a day or adding a want moves the draws of nothing else.
#include <compare>
#include <cstdint>
#include <functional>
#include <map>
#include <memory>
#include <span>
#include <vector>

#include "base/date.hpp"
#include "base/random.hpp"
#include "base/workers.hpp"
#include "evidence/low_discrepancy.hpp"
#include "season/chain_quantity.hpp"

namespace strikebed::season {

/// What is drawn: a quantity in the long run, or the effect of one batch on it; whose it is; of which day.
struct DrawName {
  ChainQuantity quantity;
  bool of_batch = false;
  std::uint64_t owner = 0;  ///< name_bits of the method or lot whose own it is, or kOwnSowing; 0: it is shared by all
  Date day{};               ///< of the sowing or session whose batch it is; not set: of the season
  auto operator<=>(const DrawName&) const = default;
};
/// Owner of the batch effects of the goal's own sowings: unlike those that are planned they may be days apart.
inline constexpr std::uint64_t kOwnSowing = 0x50b5;

/// Bits that stand for the name.
[[nodiscard]] std::uint64_t bits_of(const DrawName& name);

/// [future], standard normal.
using Scores = std::shared_ptr<const std::vector<float>>;

/// Scores that quantities were drawn to have, and by how much each future counts more or less for it.
struct Draws {
  std::map<DrawName, std::vector<float>> scores;  ///< [future]
  std::vector<double> log_weights;                ///< [future]: finite, or -infinity for what cannot be
};

/// `replicates` shifted copies of one low-discrepancy set, and a weather season for each future: dealt like cards, so
/// that all are used equally often (but for one) and replicates share none when there is a season for every future.
/// Copies share what they have drawn.
class Futures {
 public:
  /// replicates >= 2, log2_points 1...16, weather_seasons >= 1
  Futures(int weather_seasons, int replicates, int log2_points, std::uint64_t seed);

  [[nodiscard]] int count() const { return replicates_ * points_; }
  [[nodiscard]] int replicates() const { return replicates_; }
  [[nodiscard]] int points() const { return points_; }
  [[nodiscard]] std::uint64_t seed() const { return seed_; }
  [[nodiscard]] int weather(int future) const { return weather_[static_cast<std::size_t>(future)]; }
  /// How much a future counts; 1 on the mean of all.
  [[nodiscard]] double weight(int future) const {
    return weights_.empty() ? 1 : weights_[static_cast<std::size_t>(future)];
  }
  [[nodiscard]] bool weighted() const { return !weights_.empty(); }
  /// As many futures of equal weight would tell as much: (sum of weights)^2 / sum of squares.
  [[nodiscard]] double effective_count() const;

  /// The scores of a quantity: those given for it; else from the low-discrepancy set for those that every goal has, and
  /// for effects of batches, a shift of the set for each; else, for a method's own, stratified by themselves. At least
  /// count() of them.
  [[nodiscard]] Scores scores(const DrawName& name) const;
  /// Scores that were given, or nothing.
  [[nodiscard]] Scores given(const DrawName& name) const;

  /// The first `replicates` of them.
  [[nodiscard]] Futures first(int replicates) const;
  /// The same futures, but one quantity is known to stand at `score` of its belief.
  [[nodiscard]] Futures with_known(const DrawName& name, double score) const;
  /// The same with some quantities drawn otherwise: from near what is believed of them after something was seen.
  [[nodiscard]] Futures with(Draws draws) const;

 private:
  int replicates_;
  int points_;
  std::uint64_t seed_;
  std::vector<int> weather_;     ///< [future], index of the weather season
  std::vector<double> weights_;  ///< [future]; empty: all alike
  std::shared_ptr<const evidence::ShiftedNets> nets_;
  std::map<DrawName, Scores> shared_;  ///< what every goal has, in the long run
  std::map<DrawName, Scores> given_;
};

/// Hands out futures [begin, end) in blocks large enough to be worth a job, and returns when all are done.
void in_blocks(const Workers& workers, int futures, const std::function<void(int begin, int end)>& block);

/// Effects of the batches of a day in one future, one standard normal number for each: unlike those of the season, they
/// are many and small, and are sampled from 4,096 equal shares of the normal, which has its sd within 0.1 % and no
/// value beyond 3.7.
class BatchScores {
 public:
  /// `kind`: bits_of the name without its day, or anything else that tells streams apart.
  BatchScores(std::uint64_t seed, std::uint64_t kind, int future);
  [[nodiscard]] float operator()(std::uint64_t unit) const { return table_[random_bits_of(stream_, unit) >> 52]; }

 private:
  const float* table_;
  std::uint64_t stream_;
};

}  // namespace strikebed::season
