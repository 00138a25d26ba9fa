#include "evidence/beta.hpp"

#include <fmt/format.h>

#include <Eigen/Core>
#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <cmath>
#include <unsupported/Eigen/NonLinearOptimization>
#include <vector>

#include "evidence/boost_policy.hpp"

namespace strikebed::evidence {
namespace {

using Distribution = boost::math::beta_distribution<double, BoostPolicy>;

struct Point {
  double share;  ///< of the distribution below
  double rate;
};

double logit(double p) { return std::log(p / (1 - p)); }

/// Least squares of the Beta's quantiles against points, in the logarithms of a and b.
struct QuantileMisfit {
  using Scalar = double;
  using InputType = Eigen::VectorXd;
  using ValueType = Eigen::VectorXd;
  using JacobianType = Eigen::MatrixXd;
  enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

  const std::vector<Point>& points;
  bool on_logit_scale;

  [[nodiscard]] int inputs() const { return 2; }
  [[nodiscard]] int values() const { return static_cast<int>(points.size()); }

  int operator()(const Eigen::VectorXd& log_ab, Eigen::VectorXd& misfit) const {
    const Distribution beta(std::exp(std::clamp(log_ab[0], -12.0, 25.0)), std::exp(std::clamp(log_ab[1], -12.0, 25.0)));
    for (std::size_t i = 0; i < points.size(); ++i) {
      const double q = boost::math::quantile(beta, points[i].share);
      misfit[static_cast<Eigen::Index>(i)] =
          on_logit_scale ? logit(std::clamp(q, 1e-300, 1 - 1e-16)) - logit(points[i].rate) : q - points[i].rate;
    }
    return 0;
  }
  int df(const Eigen::VectorXd& log_ab, Eigen::MatrixXd& slope) const {
    constexpr double kStep = 1e-6;
    Eigen::VectorXd up(values());
    Eigen::VectorXd down(values());
    for (Eigen::Index j = 0; j < 2; ++j) {
      Eigen::VectorXd moved = log_ab;
      moved[j] += kStep;
      (*this)(moved, up);
      moved[j] -= 2 * kStep;
      (*this)(moved, down);
      slope.col(j) = (up - down) / (2 * kStep);
    }
    return 0;
  }
};

Beta fitted(const std::vector<Point>& points, bool on_logit_scale) {
  // Start from the logit-normal with the same outer points.
  const double low = points.front().rate;
  const double high = points.back().rate;
  const double centre = (logit(low) + logit(high)) / 2;
  const double sd = std::max((logit(high) - logit(low)) / (2 * kScore95), 1e-3);
  const double mean = 1 / (1 + std::exp(-centre));
  const double weight = std::max(1 / (sd * sd * mean * (1 - mean)), 0.3);
  Eigen::VectorXd log_ab(2);
  log_ab << std::log(mean * weight), std::log((1 - mean) * weight);
  QuantileMisfit misfit{points, on_logit_scale};
  Eigen::LevenbergMarquardt<QuantileMisfit> solver(misfit);
  solver.parameters.maxfev = 400;
  solver.parameters.xtol = 1e-12;
  solver.parameters.ftol = 1e-14;
  solver.minimize(log_ab);
  return {std::exp(std::clamp(log_ab[0], -12.0, 25.0)), std::exp(std::clamp(log_ab[1], -12.0, 25.0))};
}

}  // namespace

double Beta::quantile(double p) const { return boost::math::quantile(Distribution(a, b), p); }
double Beta::share_below(double x) const { return boost::math::cdf(Distribution(a, b), std::clamp(x, 0.0, 1.0)); }

Beta beta_from_test(double good, double of) { return {1 + good, 1 + of - good}; }

Result<Beta> beta_from_range(double low, double high) {
  const std::vector<Point> points{{0.05, low}, {0.95, high}};
  const Beta beta = fitted(points, true);
  const auto meets = [](double point, double wanted) {
    return std::abs(point - wanted) <= 1e-4;
  };  // not where it is no number
  if (!meets(beta.quantile(0.05), low) || !meets(beta.quantile(0.95), high)) {
    return Error{.problem = fmt::format("no Beta distribution has {} and {} as its 5 and 95 % points", low, high),
                 .allowed = "a range that is not quite so near to 0 or 1"};
  }
  return beta;
}

Result<Beta> beta_from_three(double low, double about, double high) {
  return fitted({{0.05, low}, {0.5, about}, {0.95, high}}, false);
}

Result<Beta> beta_of(const RateBelief& belief) {
  if (const auto* tested = std::get_if<Tested>(&belief.belief)) return beta_from_test(tested->good, tested->of);
  if (const auto* ranged = std::get_if<Ranged>(&belief.belief)) {
    return ranged->about ? beta_from_three(ranged->low, *ranged->about, ranged->high)
                         : beta_from_range(ranged->low, ranged->high);
  }
  return Error{.problem = "a rate that is known exactly has no distribution"};
}

}  // namespace strikebed::evidence
