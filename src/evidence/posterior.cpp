#include "evidence/posterior.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <numeric>
#include <utility>

#include "evidence/gauss_hermite.hpp"
#include "evidence/least_squares.hpp"
#include "evidence/normal_points.hpp"
#include "evidence/small_matrix.hpp"

namespace strikebed::evidence {
namespace {

double half_square(const ScorePoint& x) {
  double sum = 0;
  for (const double xi : x) sum += xi * xi;
  return sum / 2;
}

double length(std::span<const double> vector) {
  return std::sqrt(std::inner_product(vector.begin(), vector.end(), vector.begin(), 0.0));
}

/// from + share * by
ScorePoint moved(const ScorePoint& from, std::span<const double> by, double share) {
  ScorePoint to = from;
  for (std::size_t i = 0; i < by.size(); ++i) to[i] += share * by[i];
  return to;
}

/// Value, slope and curvature by differences over a twentieth of a prior's sd: for steps towards the mode and the first
/// guess of a scale only.
struct Shape {
  double value;
  std::vector<double> slope;
  SmallMatrix curvature;
};
template <class F>
Shape shape_at(std::size_t dimensions, const F& f, const ScorePoint& x) {
  constexpr double kStep = 0.05;
  Shape shape{f(x), std::vector<double>(dimensions), SmallMatrix(dimensions)};
  const auto shifted = [&](std::size_t i, std::size_t j, double by) {
    ScorePoint to = x;
    to[i] += by;
    if (j != i) to[j] += by;
    return f(to);
  };
  std::vector<double> around(dimensions);  // the sum of both neighbours
  for (std::size_t i = 0; i < dimensions; ++i) {
    const double up = shifted(i, i, kStep);
    const double down = shifted(i, i, -kStep);
    shape.slope[i] = (up - down) / (2 * kStep);
    around[i] = up + down;
    shape.curvature(i, i) = (around[i] - 2 * shape.value) / (kStep * kStep);
    for (std::size_t j = 0; j < i; ++j) {
      const double both = shifted(i, j, kStep) + shifted(i, j, -kStep);
      shape.curvature(i, j) = shape.curvature(j, i) =
          (both - around[i] - around[j] + 2 * shape.value) / (2 * kStep * kStep);
    }
  }
  return shape;
}

constexpr double kFlattest = 0.25;
/// The inverse of -curvature, as if no direction were flatter than a prior twice as wide.
SmallMatrix covariance_from(const SmallMatrix& curvature) {
  return eigen_of(curvature).function([](double value) { return 1 / std::max(-value, kFlattest); });
}

/// Damped Newton from the prior's middle, and the normal with the mode's curvature.
TriangularMap about_mode(int dimensions, const std::function<double(const ScorePoint&)>& f) {
  if (dimensions < 1 || dimensions > kMostScores) std::abort();  // a programming mistake
  constexpr int kSteps = 20;
  constexpr double kLongest = 2;
  constexpr double kNear = 0.05;  // a quadrature about it does not ask for more
  const auto d = static_cast<std::size_t>(dimensions);
  ScorePoint x{};
  Shape shape = shape_at(d, f, x);
  for (int step = 0; step < kSteps; ++step) {
    const std::vector<double> by = covariance_from(shape.curvature).times(shape.slope);
    double share = std::min(1.0, kLongest / std::max(length(by), 1e-9));
    while (f(moved(x, by, share)) < shape.value && share * length(by) > kNear / 4) share /= 2;
    x = moved(x, by, share);
    shape = shape_at(d, f, x);
    if (share * length(by) < kNear) break;
  }
  return {dimensions, x, covariance_from(shape.curvature).entries()};
}

/// A standard normal number made skew: sinh(asinh z + e) = z cosh e + sqrt(1 + z^2) sinh e, less its mean, over its sd.
/// Its tails are those of normals e^e and e^-e as wide. Source: Jones & Pewsey 2009, Biometrika 96:761-780.
class Skewed {
 public:
  explicit Skewed(double skew) : sinh_(std::sinh(skew)), cosh_(std::hypot(1, sinh_)) {
    sd_ = std::sqrt(cosh_ * cosh_ + sinh_ * sinh_ * (2 - kMeanRoot * kMeanRoot));
  }

  [[nodiscard]] double at(double z) const { return (z * cosh_ + (std::hypot(1, z) - kMeanRoot) * sinh_) / sd_; }
  [[nodiscard]] double slope(double z) const { return (cosh_ + sinh_ * z / std::hypot(1, z)) / sd_; }
  [[nodiscard]] double skewness() const {
    return (3 * cosh_ * cosh_ * sinh_ * kSquareRoot + sinh_ * sinh_ * sinh_ * kRootCubed) / (sd_ * sd_ * sd_);
  }

 private:
  // With q = sqrt(1 + z^2): the means of q, of z^2 (q - mean of q), and of (q - mean of q)^3.
  static constexpr double kMeanRoot = 1.354530806481316;
  static constexpr double kSquareRoot = 0.564890847245658;
  static constexpr double kRootCubed = 0.117228454691956;
  double sinh_, cosh_, sd_;
};

/// The skew with this skewness, as far as +-kMostSkew.
double skew_with(double skewness) {
  constexpr double kMostSkew = 0.6;
  double low = -kMostSkew;
  double high = kMostSkew;
  for (int halving = 0; halving < 20; ++halving) {
    const double middle = (low + high) / 2;
    (Skewed(middle).skewness() < skewness ? low : high) = middle;
  }
  return (low + high) / 2;
}

/// Weights from their logarithms, with the sum of 1; returns the logarithm of what the sum was.
double normalise(std::vector<double>& weights) {
  const double most = *std::max_element(weights.begin(), weights.end());
  double sum = 0;
  for (double& weight : weights) sum += weight = std::exp(weight - most);
  for (double& weight : weights) weight /= sum;
  return most + std::log(sum);
}

double effective_of(std::span<const double> weights) {
  return 1 / std::inner_product(weights.begin(), weights.end(), weights.begin(), 0.0);
}

/// Draws come from a little wider than was fitted, so that no weight is without bounds.
constexpr std::array<double, kMostScores + 1> kWider{0, 1.08, 1.08, 1.15, 1.2};

/// ln sd as a linear function, of normal numbers about 0 with these squares: Fisher scoring from one sd for all.
Terms log_sd_of(std::span<const Terms> terms, std::span<const double> squares, std::span<const double> weights,
                std::size_t count) {
  constexpr int kRounds = 3;
  constexpr double kFarOut = 20;
  constexpr double kLongest = 0.5;
  Terms log_sd{0.5 * std::log(std::inner_product(squares.begin(), squares.end(), weights.begin(), 1e-18))};
  std::vector<double> off(terms.size());
  const LeastSquares fit(terms, weights, count);
  for (int round = 0; count > 1 && round < kRounds; ++round) {
    for (std::size_t k = 0; k < terms.size(); ++k) {
      off[k] = (std::min(squares[k] * std::exp(-2 * dot(log_sd, terms[k], count)), kFarOut) - 1) / 2;
    }
    const Terms step = fit(off);
    for (std::size_t i = 0; i < count; ++i) log_sd[i] += std::clamp(step[i], -kLongest, kLongest);
  }
  return log_sd;
}

}  // namespace

TriangularMap::TriangularMap(int dimensions, const ScorePoint& centre, std::span<const double> covariance)
    : dimensions_(dimensions), scale_{.centre = centre} {
  scale_.width.fill(1);
  const auto d = static_cast<std::size_t>(dimensions);
  SmallMatrix matrix(d);
  for (std::size_t i = 0; i < d; ++i) {
    for (std::size_t j = 0; j < d; ++j) matrix(i, j) = covariance[i * d + j];
  }
  const auto factor = cholesky(matrix);
  if (!factor) std::abort();  // a programming mistake
  for (std::size_t i = 0; i < d; ++i) {
    rows_[i].mean[0] = centre[i];
    rows_[i].log_sd[0] = std::log((*factor)(i, i));
    // score_i - centre_i = the factor's row times z, and the z of those before solve their rows.
    for (std::size_t j = i; j-- > 0;) {
      double slope = (*factor)(i, j);
      for (std::size_t k = j + 1; k < i; ++k) slope -= rows_[i].mean[1 + k] * (*factor)(k, j);
      rows_[i].mean[1 + j] = slope / (*factor)(j, j);
    }
  }
}

TriangularMap::TriangularMap(int dimensions, std::span<const ScorePoint> points, std::span<const double> weights)
    : dimensions_(dimensions) {
  std::vector<Terms> terms(points.size());
  std::vector<double> values(points.size());
  std::vector<double> squares(points.size());
  for (std::size_t i = 0; i < static_cast<std::size_t>(dimensions); ++i) {
    for (std::size_t k = 0; k < points.size(); ++k) {
      terms[k] = terms_at(scale_.standardised(points[k], i), i);
      values[k] = points[k][i];
      scale_.centre[i] += weights[k] * points[k][i];
    }
    double square = 0;
    for (std::size_t k = 0; k < points.size(); ++k) square += weights[k] * std::pow(points[k][i] - scale_.centre[i], 2);
    scale_.width[i] = std::sqrt(square) + 1e-9;
    Row& row = rows_[i];
    row.mean = LeastSquares(terms, weights, terms_of(i))(values);
    for (std::size_t k = 0; k < points.size(); ++k) {
      values[k] -= dot(row.mean, terms[k], terms_of(i));
      squares[k] = values[k] * values[k];
    }
    row.log_sd = log_sd_of(terms, squares, weights, i + 1);
    double skewness = 0;
    for (std::size_t k = 0; k < points.size(); ++k) {
      skewness += weights[k] * std::pow(values[k] * std::exp(-dot(row.log_sd, terms[k], i + 1)), 3);
    }
    row.skew = skew_with(skewness);
  }
}

TriangularMap::Drawn TriangularMap::operator()(const ScorePoint& normal, double wider) const {
  const auto d = static_cast<std::size_t>(dimensions_);
  Drawn drawn{{}, -half_square(normal)};
  for (std::size_t i = d; i < normal.size(); ++i) drawn.log_density += normal[i] * normal[i] / 2;  // not drawn
  ScorePoint before{};
  for (std::size_t i = 0; i < d; ++i) {
    const Terms terms = terms_at(before, i);
    const double mean = dot(rows_[i].mean, terms, terms_of(i));
    const double log_sd = dot(rows_[i].log_sd, terms, i + 1);
    const Skewed skewed(rows_[i].skew);
    drawn.scores[i] = mean + wider * std::exp(log_sd) * skewed.at(normal[i]);
    drawn.log_density -= log_sd + std::log(wider * skewed.slope(normal[i]));
    before[i] = scale_.standardised(i, drawn.scores[i]);
  }
  return drawn;
}

Posterior::Posterior(int dimensions, LogLikelihood log_likelihood)
    : dimensions_(dimensions),
      log_likelihood_(std::move(log_likelihood)),
      map_(about_mode(dimensions, [this](const ScorePoint& x) { return log_joint(x); })) {
  constexpr std::array<int, kMostScores + 1> kCoarse{0, 9, 9, 5, 4};
  constexpr std::array<int, kMostScores + 1> kFine{0, 15, 11, 7, 5};
  for (const auto& points_a_score : {kCoarse, kFine}) {
    integrate(points_a_score[static_cast<std::size_t>(dimensions)]);
    map_ = TriangularMap(dimensions, points_, weights_);
  }
  if (dimensions > 2) mend();
}

void Posterior::mend() {
  constexpr double kGood = 0.6;     // of the draws
  constexpr double kEnough = 0.15;  // to fit a map to
  constexpr double kLost = 0.05;    // that begins anew from the prior
  constexpr int kRounds = 12;
  constexpr double kLeast = 1e-4;
  static const std::vector<ScorePoint> normal = normal_points(kMostScores, 9);
  const double all = static_cast<double>(normal.size());
  TriangularMap best = map_;
  double most = 0;
  double evidence = log_evidence_;
  for (int round = 0; round <= kRounds; ++round) {
    std::vector<ScorePoint> points;
    std::vector<double> log_weights;
    for (const ScorePoint& z : normal) {
      const WeightedPoint drawn = near(z);
      points.push_back(drawn.scores);
      log_weights.push_back(drawn.log_weight);
    }
    std::vector<double> weights = log_weights;
    const double log_evidence = normalise(weights) - std::log(all);
    const double effective = effective_of(weights);
    if (round == 0 && effective > kGood * all) return;  // the quadrature is good
    if (effective > most) {
      most = effective;
      best = map_;
      points_ = points;
      weights_ = weights;
      evidence = log_evidence_ + log_evidence;
    }
    if (effective > kGood * all) break;
    if (round == 0 && effective < kLost * all) {
      std::vector<double> unit(static_cast<std::size_t>(dimensions_ * dimensions_));
      for (int i = 0; i < dimensions_; ++i) unit[static_cast<std::size_t>(i * dimensions_ + i)] = 1;
      map_ = TriangularMap(dimensions_, ScorePoint{}, unit);
      continue;
    }
    // Weights held together, as far as it takes for enough of them to count.
    double power = 1;
    while (effective_of(weights) < kEnough * all && power > kLeast) {
      power *= 0.8;
      for (std::size_t k = 0; k < weights.size(); ++k) weights[k] = power * log_weights[k];
      normalise(weights);
    }
    map_ = TriangularMap(dimensions_, points, weights);
  }
  map_ = best;
  log_evidence_ = evidence;
  summarise();
}

double Posterior::log_joint(const ScorePoint& scores) const { return log_likelihood_(scores) - half_square(scores); }

void Posterior::integrate(int points_a_score) {
  constexpr double kTooLight = 1e-7;  // of the rule's weights: the corners
  const auto d = static_cast<std::size_t>(dimensions_);
  const auto& rule = gauss_hermite(points_a_score);
  points_.clear();
  weights_.clear();
  std::array<std::size_t, kMostScores> at{};
  for (bool more = true; more;) {
    ScorePoint normal{};
    double weight = 1;
    for (std::size_t i = 0; i < d; ++i) {
      normal[i] = rule[at[i]].score;
      weight *= rule[at[i]].weight;
    }
    if (weight > kTooLight) {
      const TriangularMap::Drawn drawn = map_(normal, 1);
      points_.push_back(drawn.scores);
      weights_.push_back(std::log(weight) + log_joint(drawn.scores) - drawn.log_density);
    }
    std::size_t i = 0;
    while (i < d && ++at[i] == rule.size()) at[i++] = 0;
    more = i < d;
  }
  log_evidence_ = normalise(weights_);
  summarise();
}

void Posterior::summarise() {
  const auto d = static_cast<std::size_t>(dimensions_);
  for (std::size_t i = 0; i < d; ++i) mean_[i] = mean_of([i](const ScorePoint& x) { return x[i]; });
  for (std::size_t i = 0; i < d; ++i) {
    for (std::size_t j = 0; j < d; ++j) {
      covariance_[i * kMostScores + j] =
          mean_of([&](const ScorePoint& x) { return (x[i] - mean_[i]) * (x[j] - mean_[j]); });
    }
  }
}

double Posterior::sd(std::size_t score) const { return std::sqrt(covariance(score, score)); }

double Posterior::mean_of(const std::function<double(const ScorePoint&)>& value) const {
  double mean = 0;
  for (std::size_t k = 0; k < points_.size(); ++k) mean += weights_[k] * value(points_[k]);
  return mean;
}

WeightedPoint Posterior::proposed(const ScorePoint& normal) const {
  const TriangularMap::Drawn drawn = map_(normal, kWider[static_cast<std::size_t>(dimensions_)]);
  return {drawn.scores, -half_square(drawn.scores) - log_evidence_ - drawn.log_density};
}

WeightedPoint Posterior::near(const ScorePoint& normal) const {
  WeightedPoint point = proposed(normal);
  point.log_weight += log_likelihood_(point.scores);
  return point;
}

WeightedDraws::WeightedDraws(const Posterior& posterior, std::span<const ScorePoint> normal) {
  for (const ScorePoint& point : normal) {
    const WeightedPoint drawn = posterior.near(point);
    scores_.push_back(drawn.scores);
    weights_.push_back(drawn.log_weight);
  }
  normalise(weights_);
}

WeightedDraws::WeightedDraws(std::vector<ScorePoint> scores, std::span<const double> log_weights)
    : scores_(std::move(scores)), weights_(log_weights.begin(), log_weights.end()) {
  normalise(weights_);
}

double WeightedDraws::effective_count() const { return effective_of(weights_); }

double WeightedDraws::quantile(const std::function<double(const ScorePoint&)>& value, double p) const {
  std::vector<std::pair<double, double>> sorted;  // value, weight
  for (std::size_t k = 0; k < scores_.size(); ++k) sorted.emplace_back(value(scores_[k]), weights_[k]);
  std::sort(sorted.begin(), sorted.end());
  // A draw stands at the middle of its weight.
  double before = sorted.front().second / 2;
  if (p <= before) return sorted.front().first;
  for (std::size_t k = 1; k < sorted.size(); ++k) {
    const double step = (sorted[k - 1].second + sorted[k].second) / 2;
    if (p <= before + step) {
      return sorted[k - 1].first + (sorted[k].first - sorted[k - 1].first) * (p - before) / step;
    }
    before += step;
  }
  return sorted.back().first;
}

}  // namespace strikebed::evidence
