#pragma once
// A rate as written in a goal file or a profile (docs/goal-file.md, "Rates").
#include <optional>
#include <string>
#include <string_view>

#include "base/belief.hpp"
#include "mix/auxin.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {

/// The belief under `key`: 0.88; { exactly = 0.88 }; { good = 41, of = 50 }; { low = 0.3, high = 0.9 } with or without
/// `about` (or `value`, its name in a profile); each table with or without batch_spread (logit sd, 0 to 3).
/// Nothing when the key is not there, and nothing with an error noted when the belief makes no sense.
[[nodiscard]] std::optional<RateBelief> read_rate(const TomlTable& table, std::string_view key);

/// What read_rate reads as the belief, without the brackets: "value = 0.65, low = 0.3, high = 0.9, batch_spread = 0.5".
[[nodiscard]] std::string rate_text(const RateBelief& belief);

/// The belief with its batch spread filled in: the written one, else none for a rate known exactly, else `usual`.
[[nodiscard]] RateBelief with_batch_spread(RateBelief belief, double usual);

/// A take that is known for a reference dip, at another one: the median times the ratio of the two, and the range, on
/// the logit scale, widened by what is not known of that ratio. A rate known exactly or by a test is the grower's own
/// and stays. What comes out is always a range that has its Beta.
[[nodiscard]] RateBelief at_another_dip(RateBelief belief, const mix::DipComparison& dip);

}  // namespace strikebed::nursery
