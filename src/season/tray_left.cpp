#include "season/tray_left.hpp"

#include <algorithm>
#include <array>
#include <numeric>

#include "season/lognormal_kernel.hpp"

namespace strikebed::season {
namespace {

using evidence::kSigns;
constexpr std::size_t kGreen = 0;
constexpr std::size_t kTurning = 1;
constexpr std::size_t kRed = 2;
constexpr std::size_t kFaded = 3;

}  // namespace

TrayLeft::TrayLeft(const TraySeen& seen) : seen_(seen), misreading_(evidence::read_as_neighbour(kMisreadSigns)) {
  for (const TraySeen::Look& look : seen.looks) {
    std::array<float, kSigns> stays{};
    for (std::size_t sign = 0; sign < kSigns; ++sign) {
      double cut = 0;
      for (std::size_t read = 0; read < kSigns; ++read) cut += misreading_[sign][read] * look.cut[read];
      stays[sign] = static_cast<float>(std::max(1 - cut, 0.0));
    }
    stays_.push_back(stays);
  }
}

void TrayLeft::begin(const float* ripening, const Timing& timing) {
  log_median_ = timing.ripening_log_median;
  window_ratio_ = timing.window_ratio;
  clock_.clear();
  for (const TraySeen::Look& look : seen_.looks) clock_.push_back(ripening[look.day]);
  pieces_.clear();
  counted_sign_.clear();
  cohorts_.clear();
}

void TrayLeft::add(float emerged_clock, float spread, float weight) {
  changes_.clear();
  sign_.assign(clock_.size(), kFaded);
  for (std::size_t k = 0; k < clock_.size(); ++k) {
    const float gained = clock_[k] - emerged_clock;
    if (gained <= 0) {  // not up yet: it was not there to be taken
      sign_[k] = kGreen;
      continue;
    }
    changes_.push_back({gained / window_ratio_, k, kRed});
    changes_.push_back({gained, k, kTurning});
    changes_.push_back({gained / static_cast<float>(kTurningPart), k, kGreen});
  }
  std::ranges::sort(changes_, {}, &Change::demand);
  demand_.assign(1, 0);
  for (const Change& change : changes_) demand_.push_back(change.demand);
  share_.resize(demand_.size());
  lognormal_shares(demand_, log_median_, spread, share_);
  CohortLeft cohort{pieces_.size(), 0, weight, 0};
  const auto is_up = [&](std::size_t k) { return clock_[k] > emerged_clock; };
  for (std::size_t i = 0; i < demand_.size(); ++i) {
    if (i > 0) sign_[changes_[i - 1].look] = changes_[i - 1].to;
    float chance = 1;
    for (std::size_t k = 0; k < clock_.size(); ++k) {
      if (is_up(k)) chance *= stays_[k][sign_[k]];
    }
    pieces_.push_back({demand_[i], share_[i], 0, chance});
    counted_sign_.push_back(seen_.left > 0 ? static_cast<unsigned char>(sign_[seen_.counted_at]) : kGreen);
  }
  cohort.end = pieces_.size();
  cohorts_.push_back(cohort);
}

float TrayLeft::share_of(const CohortLeft& cohort, std::size_t piece) const {
  return (piece + 1 < cohort.end ? pieces_[piece + 1].share : 1.0F) - pieces_[piece].share;
}

std::array<double, kSigns> TrayLeft::likelier_by_count() const {
  std::array<double, kSigns> likelier{1, 1, 1, 1};
  std::array<double, kSigns> there{};  // of each true sign, at the look that counted
  double all = 0;
  for (const CohortLeft& cohort : cohorts_) {
    for (std::size_t p = cohort.begin; p < cohort.end; ++p) {
      const double mass = static_cast<double>(cohort.weight * share_of(cohort, p) * pieces_[p].chance);
      there[counted_sign_[p]] += mass;
      all += mass;
    }
  }
  if (all <= 0) return likelier;
  constexpr double kHardly = 1e-9;
  const double counted = std::accumulate(seen_.read_and_left.begin(), seen_.read_and_left.end(), 0.0);
  likelier.fill(std::max(seen_.left - counted, 0.0) / seen_.left);
  // Of those read as a sign and not taken, each true sign stayed with a chance of its own that is in `there`.
  const std::array<double, kSigns>& cut = seen_.looks[seen_.counted_at].cut;
  for (std::size_t read = 0; read < kSigns; ++read) {
    if (seen_.read_and_left[read] == 0) continue;
    std::array<double, kSigns> reads{};
    double expected = 0;
    for (std::size_t sign = 0; sign < kSigns; ++sign) {
      const double stays = static_cast<double>(stays_[seen_.counted_at][sign]);
      if (stays > 0) reads[sign] = misreading_[sign][read] * (1 - cut[read]) / stays;
      expected += there[sign] / all * reads[sign];
    }
    const double share = seen_.read_and_left[read] / std::max(seen_.left, counted);
    for (std::size_t sign = 0; sign < kSigns; ++sign) {
      likelier[sign] += share * reads[sign] / std::max(expected, kHardly);
    }
  }
  return likelier;
}

void TrayLeft::finish() {
  std::array<double, kSigns> likelier{1, 1, 1, 1};
  if (seen_.left > 0) likelier = likelier_by_count();
  for (CohortLeft& cohort : cohorts_) {
    float left = 0;
    for (std::size_t p = cohort.begin; p < cohort.end; ++p) {
      if (seen_.left > 0) pieces_[p].chance *= static_cast<float>(likelier[counted_sign_[p]]);
      pieces_[p].left_before = left;
      left += share_of(cohort, p) * pieces_[p].chance;
    }
    cohort.left = left;
  }
}

void TrayLeft::turn(std::size_t cohort, std::span<const float> demand, std::span<float> share) const {
  std::size_t piece = cohorts_[cohort].begin;
  const std::size_t end = cohorts_[cohort].end;
  for (std::size_t i = 0; i < demand.size(); ++i) {
    while (piece + 1 < end && pieces_[piece + 1].from <= demand[i]) ++piece;
    const Piece& at = pieces_[piece];
    share[i] = at.left_before + at.chance * (share[i] - at.share);
  }
}

}  // namespace strikebed::season
