#pragma once
// The air and the medium at a growing position, from the air outdoors. Simple forms; the bench climate will stand
// behind the same functions.
#include <array>
#include <optional>

namespace strikebed::shelter {

/// A seedbed or a bench. `fixed_c` wins over all; otherwise outdoor air + offset_c, never below at_least_c.
struct Position {
  double offset_c = 0;
  std::optional<double> at_least_c;
  std::optional<double> fixed_c;
  bool operator==(const Position&) const = default;
};

/// Air at the position, °C, from outdoor air.
[[nodiscard]] inline float air_inside(const Position& position, float outdoor_c) {
  if (position.fixed_c) return static_cast<float>(*position.fixed_c);
  const float inside = outdoor_c + static_cast<float>(position.offset_c);
  return position.at_least_c && inside < static_cast<float>(*position.at_least_c)
             ? static_cast<float>(*position.at_least_c)
             : inside;
}

/// How far the medium moves towards the air in one hour: 1 - exp(-1 h / 5 h), the lag of 10 cm of drained grit.
/// Source: first-order lag rho c L / h_s with h_s 8-10 W/m2/K, docs/methods/position.md.
inline constexpr float kMediumHourlyApproach = 0.18126925F;

}  // namespace strikebed::shelter
