#pragma once
// Futures: independent draws of everything that is not known.
#include <cstdint>
#include <functional>
#include <vector>

#include "base/random.hpp"
#include "base/workers.hpp"
#include "season/chain.hpp"

namespace strikebed::season {

/// `replicates` shifted copies of one low-discrepancy set, and a weather season for each future: dealt like cards, so
/// that all are used equally often (but for one) and replicates share none when there is a season for every future.
struct Futures {
  int replicates = 0;
  int points = 0;  ///< per replicate
  std::uint64_t seed = 0;
  std::vector<std::vector<float>> scores;  ///< [dimension][future], standard normal
  std::vector<int> weather;                ///< [future], index of the weather season

  [[nodiscard]] int count() const { return replicates * points; }
  [[nodiscard]] double score(int dimension, int future) const {
    return dimension == kFixed ? 0 : scores[static_cast<std::size_t>(dimension)][static_cast<std::size_t>(future)];
  }
};

[[nodiscard]] Futures draw_futures(const Chain& chain, int weather_seasons, int replicates, int log2_points,
                                   std::uint64_t seed);

/// The same futures, but one quantity is known to stand at `score` of its belief.
[[nodiscard]] Futures with_known(const Futures& futures, int dimension, double score);

/// The first `replicates` of them.
[[nodiscard]] Futures first_replicates(const Futures& futures, int replicates);

/// Hands out futures [begin, end) in blocks large enough to be worth a job, and returns when all are done.
void in_blocks(const Workers& workers, int futures, const std::function<void(int begin, int end)>& block);

/// The timing of one future.
struct Timing {
  float germination_log_median, germination_spread, cover_time;
  float ripening_log_median, ripening_spread, window_ratio, edge_log_odds;
  float rooting_log_median, rooting_spread;
  float weaning_days;
};
[[nodiscard]] Timing timing_of(const Chain& chain, const Futures& futures, int future);

/// Batch effects that are not a dimension: one standard normal number for each unit of a kind.
enum class BatchKind : std::uint8_t { germination, standing, usable, take, weaning, arrival, closing };
/// The scores of one kind in one future, by `unit`: the index of the sowing or session (and the want, for takes).
/// Sampled from 4,096 equal shares of the normal, which has its sd within 0.1 % and no value beyond 3.7.
class BatchScores {
 public:
  BatchScores(std::uint64_t seed, int future, BatchKind kind);
  [[nodiscard]] float operator()(int unit) const {
    return table_[random_bits_of(stream_, static_cast<std::uint64_t>(unit)) >> 52];
  }

 private:
  const float* table_;
  std::uint64_t stream_;
};

}  // namespace strikebed::season
