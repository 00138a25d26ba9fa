#include "evidence/looks.hpp"

#include <algorithm>
#include <vector>

namespace strikebed::evidence {
namespace {

double number_of(std::span<const BatchSeen::Lost> lost) {
  double number = 0;
  for (const BatchSeen::Lost& one : lost) number += one.count;
  return number;
}
/// No more than there can be.
void hold(std::vector<BatchSeen::Lost>& lost, double most) {
  const double number = number_of(lost);
  if (number <= most) return;
  for (BatchSeen::Lost& one : lost) one.count *= most / number;
}

/// Looks at all: what came through between them and, at the last, what waits.
void read_whole(std::span<const Look> looks, int number, BatchSeen& seen) {
  double before = 0;
  int last = 0;
  int through = 0;  // ever
  int fell = 0;
  for (const Look& look : looks) {
    const int count = std::clamp(look.through, 0, number);
    const int rose = std::min(std::max(count - last, 0), number - through);
    if (rose > 0) seen.passed.push_back({before, look.at, static_cast<double>(rose)});
    fell += std::max(last - count, 0);
    through += rose;
    last = count;
    // Those that fell away may hide others: the next rise may have begun before this look.
    if (fell == 0 || rose > 0) before = look.at;
  }
  hold(seen.lost, number - through);
  seen.waiting = std::max(number - through - number_of(seen.lost) - fell, 0.0);
  seen.waited_by = looks.back().at;
}

}  // namespace

BatchSeen batch_seen(int number, std::span<const Look> looks, std::span<const BatchSeen::Lost> lost,
                     std::span<const Look> lifted) {
  BatchSeen seen;
  int used_up = 0;
  for (const Look& look : lifted) {
    const int of = std::clamp(look.of, 0, number - used_up);
    used_up += of;
    if (of > 0) {
      seen.samples.push_back({look.at, static_cast<double>(std::clamp(look.through, 0, of)), static_cast<double>(of)});
    }
  }
  const int left = number - used_up;
  seen.lost.assign(lost.begin(), lost.end());
  hold(seen.lost, left);
  const double never = number_of(seen.lost);
  std::vector<Look> whole;
  std::vector<Look> samples;
  for (const Look& look : looks) {
    if (look.of > 0 && left > 0) (look.of + never >= left ? whole : samples).push_back(look);
  }
  const auto earlier = [](const Look& a, const Look& b) { return a.at < b.at; };
  std::stable_sort(whole.begin(), whole.end(), earlier);
  std::stable_sort(samples.begin(), samples.end(), earlier);
  if (!whole.empty()) read_whole(whole, left, seen);
  // The lost are as many of a sample as of all, and none of them is through.
  const double of_all = whole.empty() ? static_cast<double>(left) / std::max(left - never, 1.0) : 1;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const bool again = !whole.empty() || i + 1 < samples.size();
    const double of = samples[i].of;
    seen.samples.push_back({samples[i].at, std::clamp<double>(samples[i].through, 0, of), of * of_all,
                            again ? 1 - of / static_cast<double>(left) : 1});
  }
  if (whole.empty()) seen.lost.clear();  // they are in the samples, and without any nobody knows what the others did
  return seen;
}

}  // namespace strikebed::evidence
