#pragma once
// The chain of a goal as uncertain quantities: which dimension of a future moves which rate or timing.
#include <optional>
#include <vector>

#include "evidence/rate_curve.hpp"
#include "season/chain_quantity.hpp"
#include "season/goal.hpp"

namespace strikebed::season {

inline constexpr int kFixed = -1;  ///< the dimension of a quantity that is known exactly

/// A rate of the chain.
struct ChainRate {
  evidence::RateCurve curve;
  double batch_spread;
  int dimension;        ///< of the long-run rate
  int batch_dimension;  ///< of a batch effect that comes once a season; kFixed: one for each sowing or session

  [[nodiscard]] bool known() const { return curve.known() && batch_spread == 0; }  ///< and nothing acts on it
};

/// A positive, log-normally believed quantity of the timing.
struct ChainTiming {
  double log_median;
  double log_sd;
  int dimension;
};

/// One thing the grower does not know, for "what not knowing costs".
struct UncertainQuantity {
  ChainQuantity quantity;
  std::optional<std::size_t> want;  ///< whose it is, where wants differ and no other has the same
  int tries;                        ///< of a small test that would tell most of a rate; 0 for the timing
  double low, typical, high;        ///< 5, 50, 95 % of the belief, a timing in its profile's unit
  int dimension;
  bool moves_timing;  ///< thermal shares change with it, not only rates
};

/// Rates and timings of a goal. Wants that believe the same take (or grade) share one long-run draw: it is the same
/// grower and the same bench. Batch effects stay apart by session and method.
struct Chain {
  explicit Chain(const Goal& goal);

  std::vector<UncertainQuantity> uncertain;
  int dimensions = 0;

  ChainRate germination, standing, usable, weaning, winter;
  std::vector<ChainRate> take;   ///< per want
  std::vector<ChainRate> grade;  ///< per want
  ChainTiming germination_time, germination_spread, cover_time;
  ChainTiming ripening_time, ripening_spread, window_ratio, edge_odds;
  ChainTiming rooting_time, rooting_spread, weaning_days;

 private:
  ChainRate rate(ChainQuantity quantity, const RateBelief& belief, bool once_a_season,
                 std::optional<std::size_t> want = {});
  ChainTiming timing(ChainQuantity quantity, const ProfileValue& value, double factor = 1);
};

}  // namespace strikebed::season
