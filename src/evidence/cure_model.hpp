#pragma once
// A share that passes in the end and the time it takes, learnt together from counts at looks: seeds that emerge,
// cuttings that root. A mixture cure model for interval-censored counts, with batch effects.
//
// Of a batch, a share p passes at times whose logarithm is normal, the others never:
//   P(through by t) = p F(t),  F(t) = Phi((ln((t - delay) / time_factor) - ln median) / (spread_factor * spread))
//   logit p = logit of the long-run share + offset + batch's effect
// Who is not through yet is neither a failure nor a success: few through may mean slow or may mean few, and both stay
// open. Units: time in any (thermal time, degC d), spread as the sd of its natural logarithm.
// Sources: Boag 1949, J. R. Stat. Soc. B 11:15-53 (the model); Onofri, Gresta & Tei 2010, Weed Res. 50:187-198
// (germination counts are interval-censored). docs/methods/shares-and-times.md
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "base/belief.hpp"
#include "evidence/beta.hpp"
#include "evidence/posterior.hpp"
#include "evidence/rate_fit.hpp"

namespace strikebed::evidence {

/// What was seen of one batch.
struct BatchSeen {
  struct Passed {  ///< came through after one look and by another
    double after, by;
    double count;
  };
  struct Sample {  ///< of some that were looked at, so many were through; who they are is not known later
    double at;
    double through, of;
    double weight = 1;  ///< 0...1: less where the same ones are looked at again
  };
  std::vector<Passed> passed = {};
  std::vector<Sample> samples = {};
  /// Known to come through never: those that can be lost were lost after one day of their age and by another.
  struct Lost {
    double after, by;
    double count;
  };
  std::vector<Lost> lost = {};
  double waiting = 0;    ///< not through at `waited_by`, and neither lost
  double waited_by = 0;  ///< in time, and
  double age = 0;        ///< in days, of those that can be lost

  double offset = 0;         ///< of the logit, known: how ripe they were
  double time_factor = 1;    ///< of the median time, > 0
  double spread_factor = 1;  ///< of the spread, > 0
  std::size_t share = 0;     ///< of which long-run share: 0, the belief's; i, the i-th of the others

  [[nodiscard]] bool tells_anything() const {
    return !passed.empty() || !samples.empty() || !lost.empty() || (waiting > 0 && waited_by > 0);
  }
};

/// What is believed beforehand.
struct CureBelief {
  RateBelief share;                              ///< in the long run, with batch_spread
  std::vector<RateBelief> others = {};           ///< shares of others that have the time in common: lots, methods
  Quantity time;                                 ///< median
  Quantity spread;                               ///< sd of the natural logarithm
  std::optional<Quantity> delay = std::nullopt;  ///< before any can be through; nothing: none
  /// Age in days by which half of those that never come through are lost, at log-normal ages (kFailureSpread). Nothing:
  /// none is ever lost (seeds in the bed). Either this or a delay.
  std::optional<Quantity> failure_half_life = std::nullopt;
};

/// sd of the natural logarithm of the age at which a failure is lost: nine in ten between a third and three times the
/// half-life. A guess, no source: they live on what they have, so few die in the first days.
inline constexpr double kFailureSpread = 0.65;

/// The unknowns at some scores.
struct CurePoint {
  double share_logit;  ///< in the long run
  double log_time;
  double spread;
  double delay;
  double failure_half_life;  ///< infinity: they are never lost
};

/// The unknowns of a fit and of its batches, drawn together.
struct CureDraw {
  ScorePoint scores;
  std::vector<double> others;             ///< scores of the other shares
  std::vector<double> logits;             ///< [batch]: with its offset and its effect
  std::vector<double> effects;            ///< [batch]: on the logit scale
  std::vector<double> chance_of_waiting;  ///< [batch]: that one that waits comes through at all
  double log_weight;                      ///< ln(posterior density / density drawn from); weights are 1 on the mean
};

class CureFit {
 public:
  // The scores in their order, in which each is nearly normal given those before: share; delay, or half-life of
  // failures, where there is one; time, spread. Other shares have none: they are averaged out like effects of batches.
  static constexpr std::size_t kShare = 0;
  static constexpr std::size_t kDelay = 1;  ///< or half-life
  [[nodiscard]] std::size_t time_score() const { return spread_score() - 1; }
  [[nodiscard]] std::size_t spread_score() const { return static_cast<std::size_t>(posterior_->dimensions()) - 1; }

  /// Batches may be none; what contradicts itself in them is to have been made sense of (evidence/looks.hpp).
  CureFit(const CureBelief& belief, std::vector<BatchSeen> batches);

  [[nodiscard]] const Posterior& posterior() const { return *posterior_; }
  [[nodiscard]] CurePoint point(const ScorePoint& scores) const;
  /// ln of the likelihood of all that was seen, effects averaged out.
  [[nodiscard]] double log_likelihood(const ScorePoint& scores) const;
  /// The draw at independent standard normal numbers: of the scores, and one for each other share and each batch.
  [[nodiscard]] CureDraw draw(const ScorePoint& normal, std::span<const double> of_others,
                              std::span<const double> of_batches) const;

 private:
  struct Model;
  std::shared_ptr<const Model> model_;
  std::shared_ptr<const Posterior> posterior_;
  struct Effects;
  std::shared_ptr<const Effects> effects_;
};

}  // namespace strikebed::evidence
