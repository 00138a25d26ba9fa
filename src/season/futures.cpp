#include "season/futures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "base/random.hpp"
#include "evidence/low_discrepancy.hpp"

namespace strikebed::season {
namespace {

constexpr float kSmallestWindowRatio = 1.05F;  // a window that closes as it opens is no window

std::array<float, 4096> normal_shares() {
  std::array<float, 4096> table{};
  for (std::size_t i = 0; i < table.size(); ++i) {
    table[i] = static_cast<float>(normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(table.size())));
  }
  return table;
}

}  // namespace

Futures draw_futures(const Chain& chain, int weather_seasons, int replicates, int log2_points, std::uint64_t seed) {
  Futures futures;
  futures.replicates = replicates;
  futures.points = 1 << log2_points;
  futures.seed = seed;
  futures.scores = evidence::normal_scores(std::max(chain.dimensions, 1), replicates, log2_points, seed);
  futures.weather.resize(static_cast<std::size_t>(futures.count()));
  if (weather_seasons >= futures.count()) {  // made for the purpose, in no order: one each
    std::iota(futures.weather.begin(), futures.weather.end(), 0);
    return futures;
  }
  // Deal the weather seasons like cards, one pack after another, then shuffle within the replicate.
  int dealt = 0;
  for (int r = 0; r < replicates; ++r) {
    const auto begin = futures.weather.begin() + static_cast<std::ptrdiff_t>(r) * futures.points;
    for (int p = 0; p < futures.points; ++p) begin[p] = dealt++ % weather_seasons;
    for (int p = futures.points - 1; p > 0; --p) {
      const auto bits = random_bits(seed, 0x3ea7, static_cast<std::uint64_t>(r), static_cast<std::uint64_t>(p));
      std::swap(begin[p], begin[static_cast<std::ptrdiff_t>(bits % static_cast<std::uint64_t>(p + 1))]);
    }
  }
  return futures;
}

Futures with_known(const Futures& futures, int dimension, double score) {
  Futures known = futures;
  std::ranges::fill(known.scores[static_cast<std::size_t>(dimension)], static_cast<float>(score));
  return known;
}

Futures first_replicates(const Futures& futures, int replicates) {
  Futures fewer = futures;
  fewer.replicates = std::min(replicates, futures.replicates);
  const auto count = static_cast<std::size_t>(fewer.count());
  for (auto& scores : fewer.scores) scores.resize(count);
  fewer.weather.resize(count);
  return fewer;
}

void in_blocks(const Workers& workers, int futures, const std::function<void(int, int)>& block) {
  constexpr int kBlock = 128;
  workers.run((futures + kBlock - 1) / kBlock,
              [&](int job) { block(job * kBlock, std::min((job + 1) * kBlock, futures)); });
}

Timing timing_of(const Chain& chain, const Futures& futures, int future) {
  const auto log_draw = [&](const ChainTiming& timing) {
    return static_cast<float>(timing.log_median + timing.log_sd * futures.score(timing.dimension, future));
  };
  return {.germination_log_median = log_draw(chain.germination_time),
          .germination_spread = std::exp(log_draw(chain.germination_spread)),
          .cover_time = std::exp(log_draw(chain.cover_time)),
          .ripening_log_median = log_draw(chain.ripening_time),
          .ripening_spread = std::exp(log_draw(chain.ripening_spread)),
          .window_ratio = std::max(std::exp(log_draw(chain.window_ratio)), kSmallestWindowRatio),
          .edge_log_odds = std::min(log_draw(chain.edge_odds), 0.0F),
          .rooting_log_median = log_draw(chain.rooting_time),
          .rooting_spread = std::exp(log_draw(chain.rooting_spread)),
          .weaning_days = std::exp(log_draw(chain.weaning_days))};
}

BatchScores::BatchScores(std::uint64_t seed, int future, BatchKind kind)
    : stream_(random_stream(seed, 0xba7c4 + static_cast<std::uint64_t>(kind), static_cast<std::uint64_t>(future))) {
  static const std::array<float, 4096> shares = normal_shares();
  table_ = shares.data();
}

}  // namespace strikebed::season
