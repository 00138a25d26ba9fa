#pragma once
// What is believed of a few unknowns after something was counted: a posterior in at most four standard normal scores,
// and a map that turns any standard normal points into draws from near it, with the weights that make up for the rest.
//
// Each unknown is a function of a score that is standard normal by the belief (a rate by its RateCurve, a positive
// quantity as median * exp(log_sd * score)), so the prior is the same whatever is fitted, and the draws are those of
// the season's futures moved. docs/methods/posteriors.md
#include <array>
#include <cstddef>
#include <functional>
#include <span>
#include <vector>

#include "evidence/least_squares.hpp"
#include "evidence/score_point.hpp"

namespace strikebed::evidence {

/// Some scores, and the logarithm of how much they count: ln(posterior density / density drawn from). The weights of
/// evenly spread points are 1 on the mean.
struct WeightedPoint {
  ScorePoint scores;
  double log_weight;
};

/// The triangular map of `Posterior::near`: score_i = m_i + s_i z_i, m_i quadratic and ln s_i linear in the scores
/// before (standardised, and held within +-3). It follows ridges that bend and widen, and its Jacobian is the product
/// of s_i.
class TriangularMap {
 public:
  /// The normal with this mean and covariance, [row * dimensions + column].
  TriangularMap(int dimensions, const ScorePoint& centre, std::span<const double> covariance);
  /// Fitted to points with weights (which sum to 1) by weighted regression of each score on those before.
  TriangularMap(int dimensions, std::span<const ScorePoint> points, std::span<const double> weights);

  /// The scores at independent standard normal numbers, all s_i times `wider`, and the logarithm of the density they
  /// are drawn with.
  struct Drawn {
    ScorePoint scores;
    double log_density;  ///< but for the normal's constant
  };
  [[nodiscard]] Drawn operator()(const ScorePoint& normal, double wider) const;

 private:
  struct Row {
    Terms mean{};    ///< of 1, the scores before, their products
    Terms log_sd{};  ///< of 1 and the scores before
    double skew = 0;
  };
  int dimensions_;
  ScoreScale scale_;
  std::array<Row, kMostScores> rows_{};
};

class Posterior {
 public:
  using LogLikelihood = std::function<double(const ScorePoint&)>;

  /// prior: independent standard normal scores. Quadrature in the manner of Naylor & Smith 1982 (Applied Statistics
  /// 31:214-225): a product Gauss-Hermite rule about the mode, then one through the map that was fitted to the first.
  ///   dimensions      1...kMostScores
  ///   log_likelihood  finite; kept, and called again by `near`
  /// Accuracy: docs/methods/posteriors.md (held against a dense grid in tests/evidence/posterior_test.cpp).
  Posterior(int dimensions, LogLikelihood log_likelihood);

  [[nodiscard]] int dimensions() const { return dimensions_; }
  [[nodiscard]] double mean(std::size_t score) const { return mean_[score]; }
  [[nodiscard]] double sd(std::size_t score) const;
  [[nodiscard]] double covariance(std::size_t a, std::size_t b) const { return covariance_[a * kMostScores + b]; }
  /// The mean of a function of the scores.
  [[nodiscard]] double mean_of(const std::function<double(const ScorePoint&)>& value) const;
  /// ln of the mean likelihood over the prior.
  [[nodiscard]] double log_evidence() const { return log_evidence_; }

  /// The draw at independent standard normal numbers.
  [[nodiscard]] WeightedPoint near(const ScorePoint& normal) const;
  /// The same before the likelihood is asked, which is what its weight lacks: for one that is larger by effects that
  /// are to be drawn too.
  [[nodiscard]] WeightedPoint proposed(const ScorePoint& normal) const;

 private:
  [[nodiscard]] double log_joint(const ScorePoint& scores) const;  ///< but for the normal's constant
  void integrate(int points_a_score);
  /// Where few of the map's draws count, the map is fitted again to weighted draws, until most do.
  void mend();
  void summarise();

  int dimensions_;
  LogLikelihood log_likelihood_;
  std::vector<ScorePoint> points_;
  std::vector<double> weights_;
  ScorePoint mean_{};
  std::array<double, kMostScores * kMostScores> covariance_{};
  double log_evidence_ = 0;
  TriangularMap map_;
};

/// Draws with weights, and what they tell of any quantity of theirs.
class WeightedDraws {
 public:
  /// At each of some standard normal points, evenly spread.
  WeightedDraws(const Posterior& posterior, std::span<const ScorePoint> normal);
  /// Weights are brought to the sum of 1.
  WeightedDraws(std::vector<ScorePoint> scores, std::span<const double> log_weights);

  [[nodiscard]] std::span<const ScorePoint> scores() const { return scores_; }
  [[nodiscard]] std::span<const double> weights() const { return weights_; }
  /// As many draws of equal weight would tell as much.
  [[nodiscard]] double effective_count() const;
  /// The value below which a share p (in (0, 1)) of the weight lies, between draws in a straight line.
  [[nodiscard]] double quantile(const std::function<double(const ScorePoint&)>& value, double p) const;

 private:
  std::vector<ScorePoint> scores_;
  std::vector<double> weights_;
};

}  // namespace strikebed::evidence
