#pragma once
// The phases of feeding: TOML text to mix::FeedSchedule. docs/mixes.md describes the format.
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "mix/feed.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

/// A complete season of phases.
/// Errors: a key missing, out of range or unknown; low, value and high out of order; two phases of one name; no phase.
[[nodiscard]] Result<mix::FeedSchedule> read_feed_schedule(std::string_view text, const std::string& file);

/// The same laid over a complete one: a phase it knows may leave keys out, a new one may not; source and trust may be
/// left out everywhere.
[[nodiscard]] Result<mix::FeedSchedule> read_own_feed_schedule(std::string_view text, const std::string& file,
                                                               mix::FeedSchedule shipped);

/// The library's season, and over it the grower's own file, where there is one (else an empty path).
[[nodiscard]] Result<mix::FeedSchedule> feed_schedule(const Library& library, const std::string& own_path);

}  // namespace strikebed::nursery
