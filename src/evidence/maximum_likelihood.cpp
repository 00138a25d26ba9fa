#include "evidence/maximum_likelihood.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "evidence/small_matrix.hpp"

namespace strikebed::evidence {
namespace {

using Vector = std::vector<double>;
using Function = std::function<double(std::span<const double>)>;

/// f where one or two parameters are moved by their steps times `by`.
double moved(const Function& f, Vector x, const Vector& steps, std::size_t i, std::size_t j, double by) {
  x[i] += by * steps[i];
  if (j != i) x[j] += by * steps[j];
  return f(x);
}

/// x + share * by
Vector sum_of(const Vector& x, const Vector& by, double share) {
  Vector sum = x;
  for (std::size_t i = 0; i < x.size(); ++i) sum[i] += share * by[i];
  return sum;
}

Vector slope_of(const Function& f, const Vector& x, const Vector& steps) {
  Vector slope(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double near = moved(f, x, steps, i, i, 1) - moved(f, x, steps, i, i, -1);
    const double far = moved(f, x, steps, i, i, 2) - moved(f, x, steps, i, i, -2);
    slope[i] = (8 * near - far) / (12 * steps[i]);
  }
  return slope;
}

SmallMatrix curvature_of(const Function& f, const Vector& x, const Vector& steps, double by) {
  const double here = f(x);
  SmallMatrix curvature(x.size());
  Vector around(x.size());
  for (std::size_t i = 0; i < x.size(); ++i) {
    around[i] = moved(f, x, steps, i, i, by) + moved(f, x, steps, i, i, -by) - 2 * here;
    curvature(i, i) = around[i] / (by * by * steps[i] * steps[i]);
    for (std::size_t j = 0; j < i; ++j) {
      const double both = moved(f, x, steps, i, j, by) + moved(f, x, steps, i, j, -by) - 2 * here;
      curvature(i, j) = curvature(j, i) = (both - around[i] - around[j]) / (2 * by * by * steps[i] * steps[j]);
    }
  }
  return curvature;
}

/// So far that the likelihood falls by a share of what it does over one sd, the others held.
Vector steps_from(const SmallMatrix& curvature, const Vector& before) {
  constexpr double kShare = 0.03;
  Vector steps = before;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (curvature(i, i) < 0) steps[i] = kShare / std::sqrt(-curvature(i, i));
  }
  return steps;
}

/// The sd of each parameter, the others held.
Vector sds_of(const SmallMatrix& curvature) {
  Vector sds;
  for (std::size_t i = 0; i < curvature.rows(); ++i) sds.push_back(1 / std::sqrt(std::fabs(curvature(i, i)) + 1e-300));
  return sds;
}
/// Of -curvature, with each parameter in units of its sd.
SymmetricEigen eigen_in(const Vector& sds, const SmallMatrix& curvature) {
  SmallMatrix scaled(sds.size());
  for (std::size_t i = 0; i < sds.size(); ++i) {
    for (std::size_t j = 0; j < sds.size(); ++j) scaled(i, j) = -curvature(i, j) * sds[i] * sds[j];
  }
  return eigen_of(std::move(scaled));
}

/// The step to the top of the parabola; where it curves upwards, as if it curved downwards as much.
Vector newton_step(const SmallMatrix& curvature, Vector slope) {
  const Vector sds = sds_of(curvature);
  for (std::size_t i = 0; i < sds.size(); ++i) slope[i] *= sds[i];
  Vector step = eigen_in(sds, curvature)
                    .function([](double value) { return 1 / std::max(std::fabs(value), 1e-10); })
                    .times(slope);
  for (std::size_t i = 0; i < sds.size(); ++i) step[i] *= sds[i];
  return step;
}

/// Whether it falls to both sides along every axis of its curvature, about as a parabola would over one sd: not where
/// it only flattens out.
bool is_peak(const Function& f, const Vector& x, const Vector& sds, const SymmetricEigen& eigen) {
  constexpr double kLeastFall = 0.05;  // a parabola's is 0.5
  const double here = f(x);
  for (std::size_t k = 0; k < x.size(); ++k) {
    if (!(eigen.values[k] > 0)) return false;
    Vector axis;
    for (std::size_t i = 0; i < x.size(); ++i)
      axis.push_back(sds[i] * eigen.vectors(i, k) / std::sqrt(eigen.values[k]));
    if (!(f(sum_of(x, axis, 1)) < here - kLeastFall && f(sum_of(x, axis, -1)) < here - kLeastFall)) return false;
  }
  return true;
}

/// Newton steps to where the likelihood rises no more; the steps of the differences there. Nothing: it never settles.
struct Top {
  Vector x, steps;
  double value;
};
std::optional<Top> top_of(const Function& f, Vector start) {
  constexpr int kMostSteps = 200;
  constexpr double kSettled = 1e-7;  // of a step of the differences
  Top top{.x = std::move(start), .steps = {}, .value = 0};
  top.steps.assign(top.x.size(), 1e-4);
  top.value = f(top.x);
  for (int step = 0; step < kMostSteps; ++step) {
    const SmallMatrix curvature = curvature_of(f, top.x, top.steps, 1);
    if (!curvature.all_finite()) return std::nullopt;
    top.steps = steps_from(curvature, top.steps);
    const Vector by = newton_step(curvature, slope_of(f, top.x, top.steps));
    double share = 1;
    double there = f(sum_of(top.x, by, share));
    for (int halving = 0; !(there >= top.value) && halving < 40; ++halving) there = f(sum_of(top.x, by, share /= 2));
    if (!(there >= top.value)) return top;
    const bool rises = there > top.value;
    top.x = sum_of(top.x, by, share);
    top.value = there;
    double farthest = 0;
    for (std::size_t i = 0; i < by.size(); ++i) farthest = std::max(farthest, std::fabs(share * by[i]) / top.steps[i]);
    if (!rises || farthest < kSettled) return top;
  }
  return std::nullopt;
}

}  // namespace

double MaximumLikelihood::standard_error(std::size_t parameter) const {
  return std::sqrt(covariance[parameter * (estimate.size() + 1)]);
}

double MaximumLikelihood::standard_error_of(std::span<const double> gradient) const {
  const std::size_t n = estimate.size();
  double variance = 0;
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) variance += gradient[i] * covariance[i * n + j] * gradient[j];
  }
  return std::sqrt(variance);
}

Result<MaximumLikelihood> maximise(const Function& log_likelihood, std::vector<double> start) {
  const Error none{.problem = "the likelihood of these counts has no single peak"};
  const auto top = top_of(log_likelihood, std::move(start));
  if (!top) return none;
  const std::size_t n = top->x.size();
  const SmallMatrix near = curvature_of(log_likelihood, top->x, top->steps, 1);
  const SmallMatrix far = curvature_of(log_likelihood, top->x, top->steps, 2);
  SmallMatrix curvature(n);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) curvature(i, j) = (4 * near(i, j) - far(i, j)) / 3;
  }
  if (!curvature.all_finite()) return none;
  const Vector sds = sds_of(curvature);
  const SymmetricEigen eigen = eigen_in(sds, curvature);
  if (!is_peak(log_likelihood, top->x, sds, eigen)) return none;
  const SmallMatrix inverse = eigen.function([](double value) { return 1 / value; });
  MaximumLikelihood fitted{.estimate = top->x, .covariance = {}, .log_likelihood = top->value};
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) fitted.covariance.push_back(sds[i] * inverse(i, j) * sds[j]);
  }
  return fitted;
}

}  // namespace strikebed::evidence
