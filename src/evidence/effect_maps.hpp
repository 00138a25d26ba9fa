#pragma once
// Where to draw effects from, given the scores that they go with: normals of which the mean and the logarithm of the sd
// are quadratic in the scores. What a draw is off by, its weight makes up for.
#include <span>
#include <vector>

#include "evidence/batch_effect.hpp"
#include "evidence/least_squares.hpp"

namespace strikebed::evidence {

inline constexpr int kLog2Probes = 7;  ///< of the normal points at whose draws the maps are fitted

/// Of several effects that go with the same scores.
class EffectMaps {
 public:
  /// Fitted at some points, of whose scores the first so many matter.
  ///   effects  [effect][point]
  EffectMaps(std::size_t scores, std::span<const ScorePoint> at, std::span<const std::vector<BatchEffect>> effects);

  [[nodiscard]] std::size_t count() const { return maps_.size(); }

  /// At some scores, for all effects.
  [[nodiscard]] Terms terms(const ScorePoint& scores) const;
  struct Drawn {
    double effect;
    double log_density;  ///< it is drawn with, but for the normal's constant
  };
  /// One of them at a standard normal number.
  [[nodiscard]] Drawn drawn(std::size_t which, const Terms& terms, double normal) const;
  /// As it is believed to be before anything was seen.
  [[nodiscard]] static Drawn unmoved(double spread, double normal);

 private:
  struct Map {
    Terms mean, log_sd;
  };
  std::size_t scores_;
  ScoreScale scale_;
  std::vector<Map> maps_;
};

}  // namespace strikebed::evidence
