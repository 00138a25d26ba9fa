#pragma once
// A goal changed in one respect, asked again on few of the same futures.
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "season/outlook.hpp"
#include "season/sowing_sweep.hpp"

namespace strikebed::season {

/// What a changed goal would need.
struct Asked {
  std::optional<int> seeds;  ///< on the day that needs fewest; nothing: more than the limit on every day
  double best_chance = 0;    ///< on the day that is surest, with sensible_seeds or that limit
  int sow_day = 0;           ///< that day
};

/// Fewer seeds, or where neither has enough a better chance.
[[nodiscard]] bool needs_fewer(const Asked& a, const Asked& b);

class WhatIf {
 public:
  /// Those of a model's futures in which its goal is asked again.
  [[nodiscard]] static Futures futures_of(const Model& model);

  /// With the model's futures and habit at the bench, but no patience with seedlings where there is room for all.
  ///   sums  warmth of the changed goal's positions in the model's weather
  WhatIf(const Model& model, Goal goal, std::shared_ptr<const ThermalSums> sums, Workers workers);

  /// Sown on one day. More seeds than the limit are no answer, here and below.
  [[nodiscard]] Asked on(int sow_day, int limit) const;
  /// On the plan's own day, where it has one, and on eight of the range: a change may want another day.
  [[nodiscard]] Asked about(std::optional<int> own_day, int limit) const;
  /// And then on days around the best of them.
  [[nodiscard]] Asked closer(const Asked& about, int limit) const;

 private:
  [[nodiscard]] Asked best_of(std::span<const int> days, int limit) const;

  std::optional<Outlook> changed_;  ///< nothing: no session can be held
  std::vector<Sowing> sown_;        ///< already
  SowingRange range_;
  Workers workers_;
};

}  // namespace strikebed::season
