#pragma once
// A whole number shared out in whole numbers.
#include <vector>

namespace strikebed {

/// Parts of `all` as whole numbers that add up to what `all` is rounded to; `parts` need not add up to it. All 0 where
/// one is not finite.
[[nodiscard]] std::vector<int> whole_parts(double all, const std::vector<double>& parts);

}  // namespace strikebed
