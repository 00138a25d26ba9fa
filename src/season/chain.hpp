#pragma once
// The chain of a goal as uncertain quantities: the rates and timings of its rungs, and the names their draws go by.
#include <optional>
#include <string>
#include <vector>

#include "evidence/rate_curve.hpp"
#include "season/futures.hpp"
#include "season/goal.hpp"
#include "season/loss_clock.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// A rate of the chain.
struct ChainRate {
  evidence::RateCurve curve;
  double batch_spread;
  DrawName draw;   ///< of the long-run rate
  DrawName batch;  ///< of a batch's effect; where batches have a day, it is still to be set

  [[nodiscard]] bool known() const { return curve.known() && batch_spread == 0; }  ///< and nothing acts on it
  /// The rate of a batch, from the scores of the long-run rate and of the batch's effect.
  [[nodiscard]] double of_batch(double score, double batch_score) const {
    return curve.rate(score, batch_spread == 0 ? 0 : batch_spread * batch_score);
  }
};

/// A positive, log-normally believed quantity of the timing.
struct ChainTiming {
  double log_median;
  double log_sd;  ///< 0: known exactly
  DrawName draw;
};

/// One thing the grower does not know, for "what not knowing costs".
struct UncertainQuantity {
  DrawName draw;
  std::optional<std::size_t> want;  ///< whose it is alone, where there are several
  std::string lot;                  ///< the same, of a lot
  double low, typical, high;        ///< 5, 50 and 95 % points of the belief
  int tries = 0;                    ///< of a small test that would tell most of a rate; 0: a timing
  [[nodiscard]] bool is_rate() const { return tries > 0; }
};

/// How the seed of a sowing germinates, against that of the goal's own lot: chilled for longer or shorter, or fresh.
struct Slowing {
  float log_time = 0;  ///< added to the logarithm of the germination time
  float spread = 1;    ///< times the germination spread
  bool operator==(const Slowing&) const = default;
};

/// The timing of one future.
struct Timing {
  float germination_log_median, germination_spread, cover_time;
  float ripening_log_median, ripening_spread;
  float window_ratio;  ///< of a seedling's demands for the end and the start of its window
  float edge_log_odds;
  float rooting_log_median, rooting_spread;
  float weaning_days;
  Hardiness seeds, seedlings, cuttings;  ///< until they come up, are struck, have rooted
};

/// Rates and timings of a goal. Wants without a take (or grade) of their own share one long-run draw: it is the same
/// grower and the same bench. Batch effects stay apart by session and method.
struct Chain {
  explicit Chain(const Goal& goal);

  std::vector<UncertainQuantity> uncertain;

  /// One for all; of a rung of methods one a want; of germination one a seed: the goal's lot, then each of its sowings.
  growth::PerRung<std::vector<ChainRate>> rates;
  std::vector<Slowing> slowing;  ///< [seed]
  ChainTiming germination_time, germination_spread, cover_time;
  ChainTiming ripening_time, ripening_spread, window_end, edge_odds;
  ChainTiming rooting_time, rooting_spread, weaning_days;
  ChainTiming failure_half_life;              ///< tells nothing until dead cuttings were counted
  ChainTiming cold_seed_loss, idle_loss;      ///< hazards of a day
  ChainTiming seedling_frost, cutting_frost;  ///< as growth::frost_scale

  [[nodiscard]] const ChainRate& shared(Rung rung) const { return rates[rung].front(); }
  [[nodiscard]] const ChainRate& of_want(Rung rung, std::size_t want) const { return rates[rung][want]; }

 private:
  void add_shared_rates(const Goal& goal);
  void add_lots(const Goal& goal);
  void add_timings(const Goal& goal);
  void add_rates_of_wants(const Goal& goal, Rung rung, RateBelief Want::* belief, bool Want::* own);
};

/// The effect of the batch of a day.
[[nodiscard]] DrawName batch_of_day(const ChainRate& rate, Date day);
/// The effect of the batch that is sown on a day: of a seed of the chain.
[[nodiscard]] DrawName batch_of_sowing(const ChainRate& rate, std::size_t seed, Date day);

[[nodiscard]] Timing slowed(Timing timing, const Slowing& slowing);

/// A rate with one batch effect for all of a future, [future].
[[nodiscard]] std::vector<double> rates_of(const ChainRate& rate, const DrawName& batch, const Futures& futures);

/// The day by whose morning a cutting struck on a day must have rooted in a future to count: in time for the goal, and
/// while an unrooted cutting lives; no sooner than it was struck. Indexes into the thermal sums.
[[nodiscard]] int rooted_by_day(const Goal& goal, const ThermalSums& sums, const Timing& timing, int struck);

/// The timing of every future.
[[nodiscard]] std::vector<Timing> timings_of(const Chain& chain, const Futures& futures);

}  // namespace strikebed::season
