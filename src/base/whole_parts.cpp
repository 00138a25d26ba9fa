#include "base/whole_parts.hpp"

#include <cmath>
#include <numeric>

namespace strikebed {

std::vector<int> whole_parts(double all, const std::vector<double>& parts) {
  const double sum = std::accumulate(parts.begin(), parts.end(), 0.0);
  std::vector<int> shown(parts.size(), 0);
  if (!std::isfinite(all) || !std::isfinite(sum) || !(sum > 0)) return shown;
  double so_far = 0;
  int given = 0;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    so_far += parts[i] / sum;
    const int up_to = static_cast<int>(std::lround(std::round(all) * so_far));
    shown[i] = up_to - given;
    given = up_to;
  }
  return shown;
}

}  // namespace strikebed
