#pragma once
#include <cstddef>
#include <vector>

namespace strikebed::climate {

/// Days as they were, one after another without a gap.
struct KnownDays {
  std::vector<float> tmin_c;
  std::vector<float> tmax_c;
  [[nodiscard]] std::size_t count() const { return tmin_c.size(); }
};

}  // namespace strikebed::climate
