#pragma once
// The days on which a session can be held and would be of use.
#include <vector>

#include "season/goal.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// The session days of a season and the finer days between them at which readiness is looked up.
struct SessionDays {
  std::vector<int> day;          ///< of each session, as an index into the thermal sums; ascending
  bool held_up_by_cold = false;  ///< days before the first of them are left out because the medium is too cold
  [[nodiscard]] int count() const { return static_cast<int>(day.size()); }
};

/// The days on which a session can be held and would be of use: allowed by the goal; late enough that the medium will,
/// in the usual season, be warm enough to root a slow cutting within the time an unrooted one lives; early enough that
/// a quick one can root, and be weaned where that counts, before the goal's date. Dates that the goal lists one by one
/// are only held to the last.
[[nodiscard]] SessionDays session_days(const Goal& goal, const ThermalSums& sums);

}  // namespace strikebed::season
