#include "season/futures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "base/random.hpp"

namespace strikebed::season {
namespace {

/// The quantities that every goal has, in the order of their dimensions of the low-discrepancy set: those that matter
/// most have the evenest. The place of a name here must not change with the goal.
constexpr std::array<ChainQuantity, 17> kLongRun{ChainQuantity::take,
                                                 ChainQuantity::germination,
                                                 ChainQuantity::ripening_time,
                                                 ChainQuantity::germination_time,
                                                 ChainQuantity::usable,
                                                 ChainQuantity::grade,
                                                 ChainQuantity::weaning,
                                                 ChainQuantity::standing,
                                                 ChainQuantity::rooting_time,
                                                 ChainQuantity::window_end,
                                                 ChainQuantity::winter,
                                                 ChainQuantity::ripening_spread,
                                                 ChainQuantity::cover_time,
                                                 ChainQuantity::rooting_spread,
                                                 ChainQuantity::germination_spread,
                                                 ChainQuantity::edge_odds,
                                                 ChainQuantity::weaning_days};
/// Those of which a batch's effect has dimensions, after them; batches of sessions are many and small, and have none.
constexpr std::array<ChainQuantity, 4> kOfBatches{ChainQuantity::germination, ChainQuantity::standing,
                                                  ChainQuantity::grade, ChainQuantity::winter};
/// Batches of a day have one of so many dimensions by the week they fall into: sowings of one plan have different ones,
/// but for those exactly so many weeks apart.
constexpr std::size_t kWeeks = 11;

/// Where a quantity stands among some; nothing: not there.
std::optional<std::size_t> place_in(std::span<const ChainQuantity> quantities, ChainQuantity quantity) {
  const auto at = std::ranges::find(quantities, quantity);
  if (at == quantities.end()) return std::nullopt;
  return static_cast<std::size_t>(at - quantities.begin());
}

constexpr std::size_t kDimensions = kLongRun.size() + kOfBatches.size() * kWeeks;

/// Nothing: it has none.
std::optional<std::size_t> dimension_of(const DrawName& name) {
  const auto at = place_in(name.of_batch ? std::span<const ChainQuantity>(kOfBatches) : kLongRun, name.quantity);
  if (!at || !name.of_batch) return at;
  if (name.owner != 0 && name.day != Date{}) return std::nullopt;  // may lie closer together than weeks
  constexpr int kDaysInWeek = 7;
  const auto week = static_cast<std::uint64_t>(name.day.time_since_epoch().count() / kDaysInWeek);
  return kLongRun.size() + *at * kWeeks + week % kWeeks;
}

std::array<float, 4096> normal_shares() {
  std::array<float, 4096> table{};
  for (std::size_t i = 0; i < table.size(); ++i) {
    table[i] = static_cast<float>(normal_quantile((static_cast<double>(i) + 0.5) / static_cast<double>(table.size())));
  }
  return table;
}

/// Weather seasons dealt like cards, one pack after another, then shuffled within the replicate.
std::vector<int> deal_weather(int weather_seasons, int replicates, int points, std::uint64_t seed) {
  constexpr std::uint64_t kShuffle = 0x3ea7;
  std::vector<int> weather(static_cast<std::size_t>(replicates) * static_cast<std::size_t>(points));
  if (weather_seasons >= replicates * points) {  // made for the purpose, in no order: one each
    std::iota(weather.begin(), weather.end(), 0);
    return weather;
  }
  int dealt = 0;
  for (int r = 0; r < replicates; ++r) {
    const auto begin = weather.begin() + static_cast<std::ptrdiff_t>(r) * points;
    for (int p = 0; p < points; ++p) begin[p] = dealt++ % weather_seasons;
    for (int p = points - 1; p > 0; --p) {
      const auto bits = random_bits(seed, kShuffle, static_cast<std::uint64_t>(r), static_cast<std::uint64_t>(p));
      std::swap(begin[p], begin[static_cast<std::ptrdiff_t>(bits % static_cast<std::uint64_t>(p + 1))]);
    }
  }
  return weather;
}

}  // namespace

std::uint64_t bits_of(const DrawName& name) {
  const auto day = static_cast<std::uint64_t>(name.day.time_since_epoch().count());
  return mixed_bits(mixed_bits(name.owner ^ day) ^
                    (2 * static_cast<std::uint64_t>(name.quantity) + (name.of_batch ? 1 : 0)));
}

Futures::Futures(int weather_seasons, int replicates, int log2_points, std::uint64_t seed)
    : replicates_(replicates),
      points_(1 << log2_points),
      seed_(seed),
      weather_(deal_weather(weather_seasons, replicates, 1 << log2_points, seed)) {
  nets_ = std::make_shared<const evidence::ShiftedNets>(static_cast<int>(kDimensions), replicates, log2_points, seed);
  for (const ChainQuantity quantity : kLongRun) {
    const DrawName name{.quantity = quantity};
    shared_[name] = std::make_shared<const std::vector<float>>(nets_->normal_scores(*dimension_of(name)));
  }
}

double Futures::effective_count() const {
  if (weights_.empty()) return count();
  double sum = 0;
  double squares = 0;
  for (int f = 0; f < count(); ++f) {
    sum += weight(f);
    squares += weight(f) * weight(f);
  }
  return squares > 0 ? sum * sum / squares : 0;
}

Scores Futures::given(const DrawName& name) const {
  const auto at = given_.find(name);
  return at == given_.end() ? nullptr : at->second;
}

Scores Futures::scores(const DrawName& name) const {
  if (Scores known = given(name)) return known;
  if (const auto shared = shared_.find(name); shared != shared_.end()) return shared->second;
  if (const auto dimension = dimension_of(name); name.of_batch && dimension) {
    return std::make_shared<const std::vector<float>>(nets_->normal_scores(*dimension, bits_of(name)));
  }
  int log2_points = 0;
  while ((1 << log2_points) < points_) ++log2_points;
  return std::make_shared<const std::vector<float>>(
      evidence::shuffled_normal_scores(replicates_, log2_points, seed_, bits_of(name)));
}

Futures Futures::first(int replicates) const {
  Futures fewer = *this;
  fewer.replicates_ = std::min(replicates, replicates_);
  return fewer;
}

Futures Futures::with_known(const DrawName& name, double score) const {
  Futures known = *this;
  known.given_[name] =
      std::make_shared<const std::vector<float>>(static_cast<std::size_t>(count()), static_cast<float>(score));
  return known;
}

Futures Futures::with(Draws draws) const {
  Futures drawn = *this;
  for (auto& [name, scores] : draws.scores) {
    drawn.given_[name] = std::make_shared<const std::vector<float>>(std::move(scores));
  }
  const auto futures = static_cast<std::size_t>(count());
  double most = -std::numeric_limits<double>::infinity();
  for (std::size_t f = 0; f < futures; ++f) most = std::max(most, draws.log_weights[f]);
  drawn.weights_.resize(futures, 1);
  double sum = 0;
  for (std::size_t f = 0; f < futures; ++f) {
    drawn.weights_[f] *= std::exp(draws.log_weights[f] - most);
    sum += drawn.weights_[f];
  }
  // A few that would count for hundreds tell nothing: weights are held below the root of their number (Ionides 2008,
  // J. Comput. Graph. Stat. 17:295-311).
  const double most_weight = std::sqrt(static_cast<double>(futures)) * sum / static_cast<double>(futures);
  double held = 0;
  for (double& weight : drawn.weights_) held += weight = std::min(weight, most_weight);
  for (double& weight : drawn.weights_) weight *= static_cast<double>(futures) / held;
  return drawn;
}

void in_blocks(const Workers& workers, int futures, const std::function<void(int, int)>& block) {
  constexpr int kBlock = 128;
  workers.run((futures + kBlock - 1) / kBlock,
              [&](int job) { block(job * kBlock, std::min((job + 1) * kBlock, futures)); });
}

BatchScores::BatchScores(std::uint64_t seed, std::uint64_t kind, int future)
    : stream_(random_stream(seed, kind, static_cast<std::uint64_t>(future))) {
  static const std::array<float, 4096> shares = normal_shares();
  table_ = shares.data();
}

}  // namespace strikebed::season
