#pragma once
// What was seen of a season, learnt in pieces of few dimensions; and futures drawn from near what is believed then.
// docs/methods/forecast.md
//
//   emergence   germination of a lot, its time and spread, cover time         evidence/cure_model.hpp
//   standing    of those up, by a hazard that falls with age                  evidence/rate_fit.hpp
//   readiness   ripening time and spread                                      evidence/readiness.hpp
//   usable      of those offered, session by session                          evidence/rate_fit.hpp
//   rooting     take, its time and spread                                     evidence/cure_model.hpp
//   weaning, winter, grade                                                    evidence/rate_fit.hpp
#include <vector>

#include "base/workers.hpp"
#include "evidence/cure_model.hpp"
#include "season/futures.hpp"
#include "season/observed.hpp"
#include "season/setting.hpp"

namespace strikebed::season {

/// The cuttings of a strike: what was seen of their rooting, and the take that each future makes of them.
struct StrikeDraws {
  evidence::BatchSeen rooting;
  std::vector<float> take_logit;         ///< [future]; with the ripeness they had when they were struck
  std::vector<float> chance_of_waiting;  ///< [future]: that one that has not rooted yet, and is not lost, will
};

/// Futures drawn from near what is believed now, with weights that make up for the rest.
struct LearntFutures {
  Futures futures;
  std::vector<StrikeDraws> strikes;  ///< [strike seen]
};

///   setting  of the goal of which it was seen. Thermal times are those of the usual season, which is as recorded as
///   far
///            as the record goes
///   prior    moved
[[nodiscard]] LearntFutures learnt_futures(const Setting& setting, const Observed& seen, const Futures& prior,
                                           const Workers& workers);

}  // namespace strikebed::season
