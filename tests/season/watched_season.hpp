#pragma once
// One season lived seed by seed and looked at as a grower does, written from docs/methods alone: what a forecast is
// told, and what came true. The grower cuts what looks ready on each session day, and looks at every tray and pot by
// date.
#include <cstdint>
#include <vector>

#include "season/goal.hpp"
#include "season/observed.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// How the truth differs from what the forecast believes of the world.
struct OffTheModel {
  double misread = 0.15;           ///< how often a sign is read as its neighbour
  double batch_spread_factor = 1;  ///< times what the goal believes
  double time_factor = 1;          ///< of ripening and rooting
};

class WatchedSeason {
 public:
  /// Everything uncertain is drawn from the goal's beliefs. The goal has one want, one sowing of its own and session
  /// days of the week; it is counted rooted or weaned.
  ///   weather  of the sums, that comes true
  WatchedSeason(const Goal& goal, const ThermalSums& sums, int weather, std::uint64_t seed,
                const OffTheModel& off = {});

  /// What was noted before a day.
  [[nodiscard]] Observed seen_before(Date today) const;
  /// Plants at the goal's date.
  [[nodiscard]] int counted() const { return counted_; }
  [[nodiscard]] Date first_strike() const { return first_strike_; }
  /// Median ripening time of this season's seedlings.
  [[nodiscard]] double ripening_time() const { return ripening_time_; }

 private:
  struct Cutting {
    int roots;  ///< day by whose morning it has rooted; past the last: never
    int dies;   ///< unrooted; past the last: never
  };
  struct Strike {
    Date on;
    std::vector<Cutting> cuttings;
  };

  Date first_;
  int seeds_;
  std::vector<SeenCount> emerged_;
  std::vector<TrayLook> tray_;
  std::vector<SeenSession> sessions_;
  std::vector<Strike> strikes_;
  Date first_strike_{};
  double ripening_time_ = 0;
  int counted_ = 0;
};

}  // namespace strikebed::season
