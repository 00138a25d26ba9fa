#pragma once
// What is in the bed and in the trays, by what was seen of it.
#include <vector>

#include "season/observed.hpp"
#include "season/setting.hpp"

namespace strikebed::season {

/// The goal's own seeds and seedlings, by what is known of them: those not up yet, and those that stand in a tray.
[[nodiscard]] std::vector<OwnSeedlings> own_seedlings(const Goal& goal, const ThermalSums& sums, const Observed& seen);

}  // namespace strikebed::season
