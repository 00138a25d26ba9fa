#include "base/nearest.hpp"

#include <algorithm>
#include <numeric>
#include <vector>

namespace strikebed {
namespace {

std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
    }
  }
  return row.back();
}

}  // namespace

std::optional<std::string> nearest_word(std::string_view word, std::span<const std::string_view> known) {
  if (word.size() > 64) return std::nullopt;
  std::optional<std::string> best;
  std::size_t fewest = std::max<std::size_t>(word.size() / 3, 1) + 1;
  for (const std::string_view candidate : known) {
    const std::size_t distance = edits(word, candidate);
    if (distance < fewest) {
      fewest = distance;
      best = std::string(candidate);
    }
  }
  return best;
}

}  // namespace strikebed
