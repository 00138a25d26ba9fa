#pragma once
// What not knowing costs: the seeds that knowing a quantity would save.
#include <vector>

#include "season/model.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// For each uncertain quantity: today's smallest number of seeds minus the mean, over five equally likely values of the
/// quantity, of the smallest number if it were known to have that value. Values for which no number would do are left
/// out of the mean and counted. Sorted, most seeds first. Batch effects stay unknown: knowing the long-run rate is not
/// knowing the next batch.
///   model  its first two replicates are used: differences between futures cancel, as all numbers come from the same
///   ones
[[nodiscard]] std::vector<Unknown> cost_of_not_knowing(const Model& model, const std::vector<int>& sow_days,
                                                       const std::vector<double>& shares, int seeds,
                                                       const Workers& workers);

}  // namespace strikebed::season
