#pragma once
// When seedlings of one sowing come into their window, session by session, in every future.
#include <span>
#include <vector>

#include "base/workers.hpp"
#include "season/chain.hpp"
#include "season/session_days.hpp"
#include "season/tray_left.hpp"

namespace strikebed::season {

/// Seeds or seedlings of one sowing of which the same is known.
struct SeedlingsSeen {
  /// up: they came up in time to be counted so, and all are alive on the morning of `as_of`. Not up: none was up by
  /// the morning of `as_of`, and some never will be.
  bool up = false;
  int as_of = 0;                  ///< index into the thermal sums
  double loss_half_age_days = 0;  ///< growth::losses_by_age; > 0
  int up_by = 0;                  ///< those up were up by the morning of this day, `as_of` or before
  std::optional<TraySeen> tray;   ///< of those up: who was left
};

/// Per future and session, [future * sessions + session], a standing seedling's share and state:
struct Offers {
  int sow_day = 0;       ///< index into the thermal sums
  std::size_t seed = 0;  ///< of which seed of the chain
  int sessions = 0;
  /// [future]: share of the seed that would germinate in good time which comes up; of what was seen not to be up, of
  /// the seed that would germinate later; 1 of seedlings
  std::vector<float> up;
  std::vector<float> losses_to_come;  ///< [future]: share of all standing losses; empty: all
  std::vector<float> offered;  ///< share, of the same, that the cold spares and the strike rule sends to this session
  // Their windows: the opening and closing that give the mean and the spread of their positions in the window at this
  // session, and, by straight lines to the closing, at later ones. On the ripening clock, degC d.
  std::vector<float> opened;
  std::vector<float> opened_sd;  ///< below 0 where positions lie closer together than the closings say
  std::vector<float> closes;
  std::vector<float> closes_sd;
  [[nodiscard]] std::size_t at(int future, int session) const {
    return static_cast<std::size_t>(future) * static_cast<std::size_t>(sessions) + static_cast<std::size_t>(session);
  }
};

/// Cohorts of a few days of emergence; within a cohort the demand for ripening is log-normal, and a seedling that is
/// slow to open its window is as slow to close it. A seedling that emerges on a day starts ripening the next; a session
/// sees what was ready at the end of the day before. A seedling is struck at the first session at which it has opened
/// and the strike rule says so (session_days.hpp), unless it has closed by then.
///   sow_day  0 <= sow_day < sums.days; seeds are in the warmth from that morning
///   seen     of these; no session is before `as_of`
/// Cost: about (days of emergence x sessions in reach) shares a future; see docs/benchmarks.md.
[[nodiscard]] Offers offers_of_sowing(std::span<const Timing> timings, const Futures& futures, const ThermalSums& sums,
                                      const SessionDays& sessions, int sow_day, const Workers& workers,
                                      const SeedlingsSeen* seen = nullptr);

/// Shares of a sowing that come up on each day from sow_day on, for one future; ends when all have. What is lost lying
/// in a cold bed does not.
[[nodiscard]] std::vector<float> emerging_by_day(const Timing& timing, const float* germination_sum, int sow_day,
                                                 int last_day);

/// A share this near to one is one: what single precision and cut tails leave out.
inline constexpr float kWhole = 1 - 2e-5F;

}  // namespace strikebed::season
