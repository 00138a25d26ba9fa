#pragma once
// When seedlings are ready to cut, learnt from counts of the signs of their stems, read with error, while the ripest
// are taken out of the tray.
//
// A seedling that emerged when the ripening clock stood at G needs a demand T, log-normal between seedlings: it turns
// at G + r1 T, is red (ready) from G + T and faded from G + r3 T on. A sign is read right, or as a neighbour. Whoever
// is taken out at a look is gone from all later ones: what was seen is the moment of leaving and, of those that stay,
// the sign at the last look. The likelihood is that of exactly this, so that it neither forgets the ripest (which makes
// a fit late by a fifth) nor counts a seedling that stays once for every look. Source: stage-structured counts as
// Dennis, Kemp & Beckwith 1986, Environ. Entomol. 15:540-546; the likelihood of leaving is that of interval-censored
// times. docs/methods/readiness.md
#include <array>
#include <memory>
#include <span>
#include <vector>

#include "base/belief.hpp"
#include "evidence/posterior.hpp"

namespace strikebed::evidence {

inline constexpr std::size_t kSigns = 4;  ///< green, turning, red, faded
using SignCounts = std::array<int, kSigns>;
/// [true sign][sign as read], rows sum to 1.
using Misreading = std::array<std::array<double, kSigns>, kSigns>;

/// Each sign is read wrong with this chance (0...1): as one of its neighbours, both alike.
[[nodiscard]] Misreading read_as_neighbour(double chance);

/// What was seen and done at one look at a tray.
struct SignLook {
  double clock;       ///< of ripening, in thermal time
  SignCounts seen{};  ///< as read; of all that stand, or of a sample. All 0: nothing was counted
  int standing = 0;   ///< in the tray before any are cut; at least those seen
  int cut = 0;        ///< after the counting, the ripest first: red ones, then faded, turning, green
  int lost = 0;       ///< since the look before, however ripe
};

/// Of those read as each sign, the share that is cut at a look: the ripest that were read first; where none were read,
/// all that look red.
[[nodiscard]] std::array<double, kSigns> shares_cut(const SignLook& look);

/// Seedlings that came up together.
struct Cohort {
  double clock;  ///< of ripening, when they emerged
  double share;  ///< of all; any scale
};

struct RipeningBelief {
  Quantity time;         ///< demand to be ready, median, thermal time
  Quantity spread;       ///< sd of its natural logarithm
  double turning = 0.8;  ///< demand to be turning, as a ratio to that to be ready, in (0, 1)
  double faded = 2.5;    ///< and to be faded, > 1
  Misreading misreading = read_as_neighbour(0);
};

class ReadinessFit {
 public:
  static constexpr std::size_t kTime = 0;
  static constexpr std::size_t kSpread = 1;

  /// Several trays share the median and the spread.
  struct Tray {
    std::vector<Cohort> cohorts;
    std::vector<SignLook> looks;  ///< in any order
  };
  /// A look before any is up tells nothing; one that counts more than stand counts as all. Samples that are looked at
  /// before the last count with the weight 1 - sample / standing, no more than is not looked at again.
  ReadinessFit(const RipeningBelief& belief, std::span<const Tray> trays);

  [[nodiscard]] const Posterior& posterior() const { return *posterior_; }
  [[nodiscard]] double log_time(const ScorePoint& scores) const;
  [[nodiscard]] double spread(const ScorePoint& scores) const;

 private:
  struct Model;
  std::shared_ptr<const Model> model_;
  std::shared_ptr<const Posterior> posterior_;
};

}  // namespace strikebed::evidence
