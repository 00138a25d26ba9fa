#pragma once
// How ripe to let seedlings get before they are struck.
#include <vector>

#include "season/goal.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// The place in its window, 0 as it opens to 1 as it closes, from which on it pays a seedling no more to wait: of the
/// mean of its places at a session and at the next, session by session. Looked at in the usual season, at the middles
/// of the profile's ranges: what the take gains towards the middle of the window, what rooting, winter and cold make of
/// a cutting struck then, and what the cold takes of seedlings until then.
///   days      of the sessions, as indexes into the thermal sums; ascending
///   patience  1; less: so much sooner
/// Returns [session], 0...1.
[[nodiscard]] std::vector<float> strike_places(const std::vector<int>& days, const Goal& goal, const ThermalSums& sums,
                                               double patience);

}  // namespace strikebed::season
