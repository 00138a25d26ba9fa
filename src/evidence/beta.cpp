#include "evidence/beta.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <boost/math/distributions/beta.hpp>
#include <cmath>
#include <utility>
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

using LogAb = std::array<double, 2>;  ///< logarithms of a and b

/// Kept within what can be computed.
Beta beta_of_logs(const LogAb& log_ab) {
  return {std::exp(std::clamp(log_ab[0], kLeastLog, kMostLog)), std::exp(std::clamp(log_ab[1], kLeastLog, kMostLog))};
}

/// The quantile on the logit scale. Near 1 it is read from the other end, where it keeps its digits.
double logit_quantile(const Beta& beta, double share) {
  constexpr double kNearOne = 0.9;
  const double q = beta.quantile(share);
  if (q < kNearOne) return logit(std::max(q, 1e-300));
  return -logit(std::max(Beta{beta.b, beta.a}.quantile(1 - share), 1e-300));
}

/// How far the Beta's quantiles are from the points.
std::vector<double> misfits(const std::vector<Point>& points, bool on_logit_scale, const LogAb& log_ab) {
  const Beta beta = beta_of_logs(log_ab);
  std::vector<double> misfit;
  for (const auto& [share, rate] : points) {
    misfit.push_back(on_logit_scale ? logit_quantile(beta, share) - logit(rate) : beta.quantile(share) - rate);
  }
  return misfit;
}

double sum_of_squares(const std::vector<double>& values) {
  double sum = 0;
  for (const double value : values) sum += value * value;
  return sum;
}

/// What a step of least squares needs: J'J and J'r of the misfits r, slopes J by central differences.
struct Normal {
  double aa = 0, ab = 0, bb = 0;
  double a = 0, b = 0;
};
Normal normal_equations(const std::vector<Point>& points, bool on_logit_scale, const LogAb& log_ab,
                        const std::vector<double>& misfit) {
  constexpr double kStep = 1e-6;
  std::array<std::vector<double>, 2> slope;
  for (std::size_t j = 0; j < 2; ++j) {
    LogAb moved = log_ab;
    moved[j] += kStep;
    slope[j] = misfits(points, on_logit_scale, moved);
    moved[j] -= 2 * kStep;
    const std::vector<double> down = misfits(points, on_logit_scale, moved);
    for (std::size_t i = 0; i < down.size(); ++i) slope[j][i] = (slope[j][i] - down[i]) / (2 * kStep);
  }
  Normal normal;
  for (std::size_t i = 0; i < misfit.size(); ++i) {
    normal.aa += slope[0][i] * slope[0][i];
    normal.ab += slope[0][i] * slope[1][i];
    normal.bb += slope[1][i] * slope[1][i];
    normal.a += slope[0][i] * misfit[i];
    normal.b += slope[1][i] * misfit[i];
  }
  return normal;
}

/// The nearest Beta in logarithms of a and b, looked for from `log_ab` on: least squares by Levenberg and Marquardt's
/// steps. Two unknowns need no library, whose own search is a twentieth of the module that a page loads.
LogAb fitted(const std::vector<Point>& points, bool on_logit_scale, LogAb log_ab) {
  constexpr int kMostSteps = 200;
  constexpr double kSmallStep = 1e-12;
  constexpr double kLeastDamping = 1e-12;
  constexpr double kMostDamping = 1e12;
  std::vector<double> misfit = misfits(points, on_logit_scale, log_ab);
  double damping = 1e-3;
  for (int step = 0; step < kMostSteps && damping < kMostDamping; ++step) {
    const Normal normal = normal_equations(points, on_logit_scale, log_ab, misfit);
    const double now = sum_of_squares(misfit);
    double moved = 0;
    for (; damping < kMostDamping; damping *= 10) {
      const double aa = normal.aa * (1 + damping) + 1e-300;
      const double bb = normal.bb * (1 + damping) + 1e-300;
      const double determinant = aa * bb - normal.ab * normal.ab;
      const LogAb by{-(bb * normal.a - normal.ab * normal.b) / determinant,
                     -(aa * normal.b - normal.ab * normal.a) / determinant};
      const LogAb next{log_ab[0] + by[0], log_ab[1] + by[1]};
      std::vector<double> then = misfits(points, on_logit_scale, next);
      if (!(sum_of_squares(then) < now)) continue;
      moved = std::max(std::abs(by[0]), std::abs(by[1]));
      log_ab = next;
      misfit = std::move(then);
      damping = std::max(damping / 10, kLeastDamping);
      break;
    }
    if (moved < kSmallStep) break;
  }
  return log_ab;
}

LogAb fitted_to_range(double low, double high) {
  // Start from the logit-normal with the same points.
  const double centre = (logit(low) + logit(high)) / 2;
  const double sd = std::max((logit(high) - logit(low)) / (2 * kScore95), 1e-3);
  const double mean = 1 / (1 + std::exp(-centre));
  const double weight = std::max(1 / (sd * sd * mean * (1 - mean)), 0.3);
  return fitted({{0.05, low}, {0.95, high}}, true, {std::log(mean * weight), std::log((1 - mean) * weight)});
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
