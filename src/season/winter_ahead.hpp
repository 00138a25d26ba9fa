#pragma once
// How much of the winter a plant still has to live through before it is counted.
#include <vector>

#include "season/goal.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// The goal, asked for a later date: its winter is the last one that is over by then.
[[nodiscard]] Goal with_date(Goal goal, Date by);

/// An established plant has all of it before it. Any other, the part that is left when it is weaned, if the winter is
/// over before it is counted: until then it is on the bench, and what it is lost to there is told apart. It is taken to
/// be weaned when half of those that were struck with it would be in the usual season.
class WinterAhead {
 public:
  WinterAhead(const Goal& goal, const ThermalSums& sums);
  /// Of a plant struck on a day, an index into the thermal sums: 0, none of it, to 1.
  [[nodiscard]] double part(int struck) const;

 private:
  bool all_;
  double starts_, ends_;  ///< days
  double rooting_time_, weaning_days_;
  std::vector<double> rooting_;  ///< clock of the usual season; empty where no winter comes between
};

}  // namespace strikebed::season
