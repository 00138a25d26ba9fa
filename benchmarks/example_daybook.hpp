#pragma once
// A daybook of the size of a nursery's fifteen years, invented: what is written of a batch is what a grower writes.
#include <vector>

#include "daybook/entry.hpp"

namespace strikebed::benchmarks {

/// About 6,700 entries a season: ten lots, thirty sowings, each struck on six days into a batch of its own.
[[nodiscard]] std::vector<daybook::Entry> example_daybook(int seasons);

/// As many seasons as come to 100,000 entries.
inline constexpr int kFifteenSeasons = 15;

}  // namespace strikebed::benchmarks
