#pragma once
// Whether a number lies where it may; a number that is none lies nowhere.

namespace strikebed::mix {

[[nodiscard]] constexpr bool above_zero_to(double value, double most) { return value > 0 && value <= most; }
[[nodiscard]] constexpr bool from_to(double value, double least, double most) {
  return value >= least && value <= most;
}
[[nodiscard]] constexpr bool between(double value, double below, double above) {
  return value > below && value < above;
}

}  // namespace strikebed::mix
