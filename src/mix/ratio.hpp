#pragma once
// Dilution ratios. "1:10" is read as one part in ten parts of mixture and as one part and ten of water, 9 % apart, so
// it is never taken without saying which.
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace strikebed::mix {

struct Ratio {
  bool plus = false;  ///< one part and n of water; otherwise one part in n parts of mixture
  double n = 1;

  [[nodiscard]] double mixture_per_part() const { return plus ? n + 1 : n; }
};

/// "1 in 100" or "1 plus 100", n from 1 to 10000. Errors: "1:100", another form, n out of range.
[[nodiscard]] Result<Ratio> parse_ratio(std::string_view text, std::string_view field);
[[nodiscard]] std::string to_text(const Ratio& ratio);

}  // namespace strikebed::mix
