#pragma once
// What a grower believes of a rate (a share between 0 and 1), as written in a goal file or a profile.
#include <cmath>
#include <optional>
#include <variant>

namespace strikebed {

struct Known {  ///< exactly this share; nothing else acts on it
  double share;
  bool operator==(const Known&) const = default;
};
struct Tested {  ///< `good` of `of` in a test; belief Beta(1 + good, 1 + of - good)
  double good;
  double of;
  bool operator==(const Tested&) const = default;
};
struct Ranged {  ///< 5 and 95 % points of the long-run rate, and its median where given
  double low;
  double high;
  std::optional<double> about;
  bool operator==(const Ranged&) const = default;
};

/// A rate and how it differs between batches.
///   batch_spread  sd of the batch effect on the logit scale, >= 0; nothing: the species profile's.
///                 A Known rate has none unless one is written beside it.
struct RateBelief {
  std::variant<Known, Tested, Ranged> belief;
  std::optional<double> batch_spread;
  bool operator==(const RateBelief&) const = default;
};

/// Standard normal score of the 95 % point, where beliefs have their `high`.
inline constexpr double kScore95 = 1.6448536269514722;

/// A positive quantity (thermal time, days, a ratio) believed log-normal: median, and 5 and 95 % points.
/// low == value == high: known exactly.
struct Quantity {
  double value;  ///< median
  double low;    ///< 5 % point, > 0
  double high;   ///< 95 % point, >= value
  bool operator==(const Quantity&) const = default;
};
/// sd of its natural logarithm; 0: known exactly.
[[nodiscard]] inline double log_sd_of(const Quantity& quantity) {
  return quantity.high > quantity.low ? (std::log(quantity.high) - std::log(quantity.low)) / (2 * kScore95) : 0;
}

}  // namespace strikebed
