#pragma once
// What was seen of a season so far, in the terms of the chain. Nursery fills it from the daybook. All of it lies before
// the goal's `today`; what contradicts itself or is missing is to widen the answer, never to break it.
#include <cstddef>
#include <numeric>
#include <optional>
#include <vector>

#include "base/date.hpp"
#include "evidence/readiness.hpp"

namespace strikebed::season {

/// A count at a look: so many good ones of those looked at.
struct SeenCount {
  Date on;
  int good = 0;
  int of = 0;
  /// Whether all of so many were looked at.
  [[nodiscard]] bool is_of_all(int number) const { return of >= number; }
  bool operator==(const SeenCount&) const = default;
};

/// One look at the seedlings of a sowing, and what was done there and then.
struct TrayLook {
  Date on;
  evidence::SignCounts signs{};  ///< as read, of all that stand or of a sample; all 0: nobody looked
  int standing = 0;              ///< before any are taken out
  int taken = 0;                 ///< struck, rejected or broken: out of the tray, the ripest first
  int lost = 0;                  ///< since the look before
  [[nodiscard]] evidence::SignLook at(double clock) const {
    return {.clock = clock, .seen = signs, .standing = standing, .cut = taken, .lost = lost};
  }
  /// Of those read as each sign, the share that was taken.
  [[nodiscard]] std::array<double, evidence::kSigns> shares_taken() const { return evidence::shares_cut(at(0)); }
  bool operator==(const TrayLook&) const = default;
};

/// What was seen of one of the goal's own sowings.
struct SeenSowing {
  std::vector<SeenCount> emerged = {};  ///< ever, alive or not; of all the seed, or of a sample
  std::vector<TrayLook> tray = {};      ///< by date
  bool operator==(const SeenSowing&) const = default;
};

/// Good enough to strike, of those looked at in a session.
using SeenSession = SeenCount;

/// So many were found to be dead at a look, since the one before.
struct SeenLoss {
  Date on;
  int number = 0;
  bool operator==(const SeenLoss&) const = default;
};

/// Cuttings struck at one session, by the method of one want, out of one sowing.
struct SeenStrike {
  Date on;
  std::size_t want = 0;
  std::optional<std::size_t> sowing = {};  ///< of the goal's own; nothing: from elsewhere
  int struck = 0;                          ///< controls apart
  std::vector<SeenCount> rooted = {};      ///< at looks, by date: of all that live, or of a sample
  std::vector<SeenCount> lifted = {};      ///< at looks that used up what was looked at
  std::vector<SeenLoss> lost = {};         ///< before they rooted, by date
  std::optional<SeenCount> weaned = {};    ///< alive at the end of weaning, of those that had rooted
  std::optional<SeenCount> wintered = {};  ///< alive in spring, of those weaned
  std::optional<SeenCount> graded = {};    ///< foot good enough, of those looked at
  int gone = 0;                            ///< rooted ones given away, sold, or lost since they were counted last

  [[nodiscard]] int number_lost() const {
    return std::accumulate(lost.begin(), lost.end(), 0, [](int sum, const SeenLoss& one) { return sum + one.number; });
  }
  bool operator==(const SeenStrike&) const = default;
};

struct Observed {
  std::vector<SeenSowing> sowings = {};  ///< [goal.sown]
  std::vector<SeenSession> sessions = {};
  std::vector<SeenStrike> strikes = {};
  bool operator==(const Observed&) const = default;
};

}  // namespace strikebed::season
