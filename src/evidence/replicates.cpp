#include "evidence/replicates.hpp"

#include <boost/math/distributions/binomial.hpp>
#include <cmath>
#include <vector>

#include "evidence/boost_policy.hpp"

namespace strikebed::evidence {
namespace {

// Chance of `count` seeds or fewer, for count = 0 ... seeds.
std::vector<double> shares_at_most(int seeds, double share) {
  const boost::math::binomial_distribution<double, BoostPolicy> counts(seeds, share);
  std::vector<double> result(static_cast<std::size_t>(seeds) + 1);
  for (int count = 0; count <= seeds; ++count) result[static_cast<std::size_t>(count)] = cdf(counts, count);
  return result;
}

double chance_range_at_most(const std::vector<double>& at_most, int range, int replicates) {
  const int seeds = static_cast<int>(at_most.size()) - 1;
  const auto below = [&](int count) {
    return count < 0 ? 0.0 : at_most[static_cast<std::size_t>(count < seeds ? count : seeds)];
  };
  // All within [lowest, lowest + range], less all above the lowest: the lowest count is then exactly `lowest`.
  double sum = 0;
  for (int lowest = 0; lowest <= seeds; ++lowest) {
    sum += std::pow(below(lowest + range) - below(lowest - 1), replicates) -
           std::pow(below(lowest + range) - below(lowest), replicates);
  }
  return sum;
}

}  // namespace

double chance_range_at_most(int range, int replicates, int seeds, double share) {
  if (range < 0) return 0;
  return chance_range_at_most(shares_at_most(seeds, share), range, replicates);
}

int tolerated_range(int replicates, int seeds, double share, double risk) {
  const std::vector<double> at_most = shares_at_most(seeds, share);
  int range = 0;
  while (range < seeds && 1 - chance_range_at_most(at_most, range, replicates) > risk) ++range;
  return range;
}

}  // namespace strikebed::evidence
