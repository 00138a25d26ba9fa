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

constexpr double kLeastLog = -12;  // of a and b
constexpr double kMostLog = 25;

double logit(double p) { return std::log(p / (1 - p)); }

/// a and b from their logarithms, kept within what can be computed.
Beta beta_of_logs(const Eigen::VectorXd& log_ab) {
  return {std::exp(std::clamp(log_ab[0], kLeastLog, kMostLog)), std::exp(std::clamp(log_ab[1], kLeastLog, kMostLog))};
}

/// The quantile on the logit scale. Near 1 it is read from the other end, where it keeps its digits.
double logit_quantile(const Beta& beta, double share) {
  constexpr double kNearOne = 0.9;
  const double q = beta.quantile(share);
  if (q < kNearOne) return logit(std::max(q, 1e-300));
  return -logit(std::max(Beta{beta.b, beta.a}.quantile(1 - share), 1e-300));
}

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
    const Beta beta = beta_of_logs(log_ab);
    for (std::size_t i = 0; i < points.size(); ++i) {
      const auto& [share, rate] = points[i];
      misfit[static_cast<Eigen::Index>(i)] =
          on_logit_scale ? logit_quantile(beta, share) - logit(rate) : beta.quantile(share) - rate;
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

/// The nearest Beta in logarithms of a and b, looked for from `log_ab` on.
Eigen::VectorXd fitted(const std::vector<Point>& points, bool on_logit_scale, Eigen::VectorXd log_ab) {
  QuantileMisfit misfit{points, on_logit_scale};
  Eigen::LevenbergMarquardt<QuantileMisfit> solver(misfit);
  solver.parameters.maxfev = 400;
  solver.parameters.xtol = 1e-12;
  solver.parameters.ftol = 1e-14;
  solver.minimize(log_ab);
  return log_ab;
}

Eigen::VectorXd fitted_to_range(double low, double high) {
  // Start from the logit-normal with the same points.
  const double centre = (logit(low) + logit(high)) / 2;
  const double sd = std::max((logit(high) - logit(low)) / (2 * kScore95), 1e-3);
  const double mean = 1 / (1 + std::exp(-centre));
  const double weight = std::max(1 / (sd * sd * mean * (1 - mean)), 0.3);
  Eigen::VectorXd log_ab(2);
  log_ab << std::log(mean * weight), std::log((1 - mean) * weight);
  return fitted({{0.05, low}, {0.95, high}}, true, log_ab);
}

}  // namespace

double Beta::quantile(double p) const { return boost::math::quantile(Distribution(a, b), p); }
double Beta::share_below(double x) const { return boost::math::cdf(Distribution(a, b), std::clamp(x, 0.0, 1.0)); }

Beta beta_from_test(double good, double of) { return {1 + good, 1 + of - good}; }

std::optional<Error> wrong_range(double low, double high) {
  const bool within = low >= kLeastRate && high <= kMostRate;  // not where one is no number
  if (within && high - low >= kNarrowestRange * (1 - 1e-9)) return std::nullopt;
  return Error{.problem = fmt::format("no belief is made of a range from {} to {}", low, high),
               .allowed = fmt::format("low and high from {} to {}, low at least {:.5f} below high", kLeastRate,
                                      kMostRate, kNarrowestRange)};
}

Result<Beta> beta_from_range(double low, double high) {
  if (auto wrong = wrong_range(low, high)) return *wrong;
  return beta_of_logs(fitted_to_range(low, high));
}

Result<Beta> beta_from_three(double low, double about, double high) {
  if (auto wrong = wrong_range(low, high)) return *wrong;
  return beta_of_logs(fitted({{0.05, low}, {0.5, about}, {0.95, high}}, false, fitted_to_range(low, high)));
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
