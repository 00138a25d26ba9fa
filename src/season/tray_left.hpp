#pragma once
// Which of the seedlings of a tray are left after looks at which the ripest were taken out, and how ripe they are.
#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "evidence/readiness.hpp"
#include "season/chain.hpp"

namespace strikebed::season {

/// The ripening demand of a seedling to look `turning`, as a part of that to be ready; one time in so many a sign is
/// read as its neighbour's. Practice has no figures: both are guesses (trust C) that own counts will replace.
inline constexpr double kTurningPart = 0.8;
inline constexpr double kMisreadSigns = 0.15;

/// What was seen of the ripeness of those that stand, look by look.
struct TraySeen {
  struct Look {
    int day;                                   ///< index into the thermal sums
    std::array<double, evidence::kSigns> cut;  ///< of those that look like each sign, the share taken out
  };
  std::vector<Look> looks;  ///< by day; those at which none were taken out may be missing
  /// At the last of them that counted signs: as read and left there, of how many that were left in all.
  std::array<double, evidence::kSigns> read_and_left{};
  double left = 0;  ///< 0: signs were never counted
  std::size_t counted_at = 0;
};

/// The cohorts of one tray in one future. A seedling that has been up since the ripening clock stood at G, with the
/// demand T, looked turning from G + 0.8 T on, red from G + T, faded as its window closed; so at every look its sign,
/// and with it the chance that it was left there, changes at three demands. Those left whose sign was counted have the
/// signs that were counted; the rest are as the future would have it.
class TrayLeft {
 public:
  explicit TrayLeft(const TraySeen& seen);

  /// ripening: the clock at the start of each day of this future's season.
  void begin(const float* ripening, const Timing& timing);
  /// A cohort: the clock at which it came up, sd of the logarithm of its demands, and how many of all it is.
  void add(float emerged_clock, float spread, float weight);
  /// After the last cohort.
  void finish();

  /// How much of a cohort is left, in units of its weight: the mean over its demands of the chance to be left.
  [[nodiscard]] float left(std::size_t cohort) const { return cohorts_[cohort].left; }
  /// Shares of a cohort below rising demands turned into those of its seedlings that are left, in the same units.
  void turn(std::size_t cohort, std::span<const float> demand, std::span<float> share) const;

 private:
  struct Piece {
    float from;         ///< demand at which it begins
    float share;        ///< of all demands, below `from`
    float left_before;  ///< the same of those left
    float chance;       ///< to be left, from there on
  };
  /// Of a seedling's sign, at a demand: below it is riper than at and above.
  struct Change {
    float demand;
    std::size_t look;
    std::size_t to;  ///< the sign from this demand on
  };
  struct CohortLeft {
    std::size_t begin, end;  ///< of its pieces
    float weight;
    float left;
  };
  [[nodiscard]] float share_of(const CohortLeft& cohort, std::size_t piece) const;  ///< of all its demands
  /// By how much likelier each true sign is, now that those left were counted.
  [[nodiscard]] std::array<double, evidence::kSigns> likelier_by_count() const;

  const TraySeen& seen_;
  evidence::Misreading misreading_;
  std::vector<std::array<float, evidence::kSigns>> stays_;  ///< [look][true sign]: chance to be left there
  std::vector<float> clock_;                                ///< at each look
  float log_median_ = 0;
  float window_ratio_ = 1;
  std::vector<Piece> pieces_;
  std::vector<unsigned char> counted_sign_;  ///< [piece]: true sign at the look that counted
  std::vector<CohortLeft> cohorts_;
  // Memory for the next cohort:
  std::vector<Change> changes_;
  std::vector<std::size_t> sign_;  ///< [look]
  std::vector<float> demand_, share_;
};

}  // namespace strikebed::season
