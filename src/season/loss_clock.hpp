#pragma once
// What the cold and the dark take in one future, day by day.
#include <cstddef>
#include <vector>

namespace strikebed::season {

/// How fast a stage is lost where it stands still or freezes.
struct Hardiness {
  float idle = 0;   ///< hazard of a day on which it stands still
  float frost = 0;  ///< hazard of a night, for each unit of growth::frost_dose
};

/// What lives of one stage from day to day, for the days from `from` to `to`.
class LossClock {
 public:
  /// Reads it into memory that is there.
  ///   clock  the stage's thermal time at the start of each day, up to entry `to`
  ///   frost  dose of the night before each day's morning; null: it never freezes there
  void read(const float* clock, const float* frost, Hardiness hardiness, int from, int to);

  /// Nothing to speak of is lost from first to last.
  [[nodiscard]] bool takes_none() const { return by_day_.empty(); }
  /// The share that lives from the start of one day to the start of another; 1 where `to` is not after `from`.
  [[nodiscard]] float surviving(int from, int to) const {
    if (takes_none() || to <= from) return 1;
    const Alive& first = at(from);
    const Alive& last = at(to);
    return first.wiped_out == last.wiped_out ? static_cast<float>(last.share / first.share) : 0;
  }
  /// The days on which any are lost, in order.
  [[nodiscard]] const std::vector<int>& days() const { return days_; }

 private:
  /// Of those at the start of `from`, or since all were wiped out for the last time: a share of its own would be lost
  /// in a number's last digits.
  struct Alive {
    double share;
    int wiped_out;  ///< so many times
  };
  [[nodiscard]] const Alive& at(int day) const;
  int from_ = 0;
  std::vector<Alive> by_day_;  ///< [day - from]; empty where nothing is lost
  std::vector<int> days_;
};

}  // namespace strikebed::season
