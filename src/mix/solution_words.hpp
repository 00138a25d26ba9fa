#pragma once
// What is to be said of a rooting solution that was worked out: how long it keeps, the label, what to mind and what was
// taken as given.
#include <string>
#include <vector>

#include "mix/solution.hpp"

namespace strikebed::mix {

[[nodiscard]] Keeping keeping_of(const SolutionRequest& request, const Solution& solution);
/// Of a stock in water or alcohol (% v/v at least).
[[nodiscard]] Keeping keeping_of_stock(Date made, double alcohol_low_pct);

/// Lines for the bottle; for that of the first of two steps. The keeping is read from `solution` and `steps`.
[[nodiscard]] std::vector<std::string> label_lines(const SolutionRequest& request, const Solution& solution);
[[nodiscard]] std::vector<std::string> first_label_lines(const SolutionRequest& request, const TwoSteps& steps);

/// All but these two: keeping, label.
[[nodiscard]] std::vector<std::string> warnings_of(const SolutionRequest& request, const Solution& solution);
[[nodiscard]] std::vector<std::string> assumptions_of(const SolutionRequest& request, const Solution& solution);

}  // namespace strikebed::mix
