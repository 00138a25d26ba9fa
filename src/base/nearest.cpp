#include "base/nearest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <numeric>
#include <vector>

namespace strikebed {
namespace {

/// Optimal string alignment distance: insertions, deletions, replacements and swaps of neighbours, one edit each.
std::size_t edits(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1);
  std::vector<std::size_t> last(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    before.swap(last);
    last.swap(row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) row[j] = std::min(row[j], before[j - 2] + 1);
    }
  }
  return row.back();
}

/// Whether the word is how the candidate begins, in letters of any case.
bool begins(std::string_view candidate, std::string_view word) {
  const auto same = [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
  };
  return word.size() <= candidate.size() && std::equal(word.begin(), word.end(), candidate.begin(), same);
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
  if (best || word.size() < 3) return best;
  for (const std::string_view candidate : known) {
    if (!begins(candidate, word)) continue;
    if (best) return std::nullopt;  // several: it could mean any
    best = std::string(candidate);
  }
  return best;
}

std::string did_you_mean(std::string_view word, std::span<const std::string_view> known) {
  if (word.size() < 3) return "";  // any letter is near any other
  const std::optional<std::string> near = nearest_word(word, known);
  return near ? fmt::format(" (did you mean \"{}\"?)", *near) : "";
}

}  // namespace strikebed
