#pragma once
// Cuttings and plants that are in pots already: how many of them will count.
#include <span>

#include "season/learnt.hpp"

namespace strikebed::season {

/// Of all that was struck: those that wait root, in good time and while an unrooted one lives; those that have rooted
/// are weaned, live through winter and have a good foot, as far as that is not known of them. Given a future, each is a
/// try on its own.
///   setting  of the goal of which it was seen
///   strikes  as learnt, in these futures
[[nodiscard]] InPots plants_in_pots(const Setting& setting, const Observed& seen, std::span<const StrikeDraws> strikes,
                                    const Futures& futures, const Workers& workers);

}  // namespace strikebed::season
