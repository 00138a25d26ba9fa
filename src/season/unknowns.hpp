#pragma once
// What not knowing costs: the seeds that knowing a quantity would save.
#include <vector>

#include "base/steps.hpp"
#include "season/model.hpp"
#include "season/plan.hpp"

namespace strikebed::season {

/// What is asked about: so many seeds in these sowings, shared so.
struct AskedSowings {
  std::vector<Sowing> sowings;
  std::vector<double> shares;
  int seeds = 0;
};

/// For each uncertain quantity: today's smallest number of seeds minus the mean, over equally likely values of the
/// quantity (fifteen; five where those show that it hardly matters), of the smallest number if it were known to have
/// that value. Values for which no number would do are left out of the mean and counted. Sorted, most seeds first.
/// Batch effects stay unknown: knowing the long-run rate is not knowing the next batch. Says how much is done, 0 to 1;
/// `unknowns` is filled at the end.
///   model  its first two replicates are used: differences between futures cancel, as all numbers come from the same
///   ones. Everything referred to must outlive the steps.
[[nodiscard]] Steps<double> cost_of_not_knowing(const Model& model, AskedSowings asked, Workers workers,
                                                std::vector<Unknown>& unknowns);

}  // namespace strikebed::season
