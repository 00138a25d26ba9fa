#pragma once
// What goes with a rooting solution that was worked out: how long it keeps, what to mind and what was taken as given.
#include <vector>

#include "mix/solution.hpp"

namespace strikebed::mix {

[[nodiscard]] Keeping keeping_of(const SolutionRequest& request, const Solution& solution);
/// Of a stock in water or alcohol (% v/v at least).
[[nodiscard]] Keeping keeping_of_stock(Date made, double alcohol_low_pct);

/// From all of the solution but these.
[[nodiscard]] std::vector<SolutionRemark> remarks_of(const SolutionRequest& request, const Solution& solution);
[[nodiscard]] std::vector<SolutionAssumption> assumptions_of(const SolutionRequest& request, const Solution& solution);

}  // namespace strikebed::mix
