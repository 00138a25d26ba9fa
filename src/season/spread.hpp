#pragma once
// Points of what turns out in the futures, each with the weight of its future.
#include <vector>

namespace strikebed::season {

/// 5, 50 and 95 % points over the futures.
struct Spread {
  double low = 0;
  double typical = 0;
  double high = 0;
  bool operator==(const Spread&) const = default;
};

/// A value with how much it counts, >= 0.
struct Weighed {
  double value;
  double weight;
};
/// Where so large a share of a sample's weight lies below; linear between values, 0 when empty.
[[nodiscard]] double point_of(std::vector<Weighed> sample, double share);
/// The 5, 50 and 95 % points.
[[nodiscard]] Spread spread_of(std::vector<Weighed> sample);

}  // namespace strikebed::season
