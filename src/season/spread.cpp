#include "season/spread.hpp"

#include <algorithm>

namespace strikebed::season {
namespace {

/// Each value stands in the middle of its weight; the first stands at 0 and the last at 1.
double point_of_sorted(const std::vector<Weighed>& sample, double share) {
  if (sample.empty()) return 0;
  const auto between = [&](std::size_t i) { return (sample[i].weight + sample[i + 1].weight) / 2; };
  double all = 0;
  for (std::size_t i = 0; i + 1 < sample.size(); ++i) all += between(i);
  double left = share * all;
  for (std::size_t i = 0; i + 1 < sample.size(); ++i) {
    if (left <= between(i)) {
      const double part = between(i) > 0 ? left / between(i) : 0;
      return sample[i].value + part * (sample[i + 1].value - sample[i].value);
    }
    left -= between(i);
  }
  return sample.back().value;
}

}  // namespace

double point_of(std::vector<Weighed> sample, double share) {
  std::ranges::sort(sample, {}, &Weighed::value);
  return point_of_sorted(sample, share);
}

Spread spread_of(std::vector<Weighed> sample) {
  std::ranges::sort(sample, {}, &Weighed::value);
  return {point_of_sorted(sample, 0.05), point_of_sorted(sample, 0.5), point_of_sorted(sample, 0.95)};
}

}  // namespace strikebed::season
