#pragma once
// What a plan loses to cold, frost and short days.
#include <span>

#include "season/model.hpp"

namespace strikebed::season {

/// Shares lost in the mean of the futures.
struct ColdToll {
  double seeds = 0;      ///< of what could come up, lying in a bed too cold to germinate in
  double seedlings = 0;  ///< of those up, standing still or in frost before a session takes them
  double cuttings = 0;   ///< of those that would root, standing still or in frost before they have
};

/// The plan beside the same in plants that no cold hurts, in some of the model's futures.
///   sowings  the model's
[[nodiscard]] ColdToll cold_toll(const Model& model, std::span<const Sowing> sowings, int seeds,
                                 std::span<const double> shares);

}  // namespace strikebed::season
