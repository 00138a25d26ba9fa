#include "evidence/maximum_likelihood.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <cmath>
#include <utility>

namespace strikebed::evidence {
namespace {

using Vector = Eigen::VectorXd;
using Matrix = Eigen::MatrixXd;
using Function = std::function<double(std::span<const double>)>;

double at(const Function& f, const Vector& x) { return f(std::span(x.data(), static_cast<std::size_t>(x.size()))); }

/// f where one or two parameters are moved by their steps times `by`.
double moved(const Function& f, Vector x, const Vector& steps, Eigen::Index i, Eigen::Index j, double by) {
  x[i] += by * steps[i];
  if (j != i) x[j] += by * steps[j];
  return at(f, x);
}

Vector slope_of(const Function& f, const Vector& x, const Vector& steps) {
  Vector slope(x.size());
  for (Eigen::Index i = 0; i < x.size(); ++i) {
    const double near = moved(f, x, steps, i, i, 1) - moved(f, x, steps, i, i, -1);
    const double far = moved(f, x, steps, i, i, 2) - moved(f, x, steps, i, i, -2);
    slope[i] = (8 * near - far) / (12 * steps[i]);
  }
  return slope;
}

Matrix curvature_of(const Function& f, const Vector& x, const Vector& steps, double by) {
  const double here = at(f, x);
  Matrix curvature(x.size(), x.size());
  Vector around(x.size());
  for (Eigen::Index i = 0; i < x.size(); ++i) {
    around[i] = moved(f, x, steps, i, i, by) + moved(f, x, steps, i, i, -by) - 2 * here;
    curvature(i, i) = around[i] / (by * by * steps[i] * steps[i]);
    for (Eigen::Index j = 0; j < i; ++j) {
      const double both = moved(f, x, steps, i, j, by) + moved(f, x, steps, i, j, -by) - 2 * here;
      curvature(i, j) = curvature(j, i) = (both - around[i] - around[j]) / (2 * by * by * steps[i] * steps[j]);
    }
  }
  return curvature;
}

/// So far that the likelihood falls by a share of what it does over one sd, the others held.
Vector steps_from(const Matrix& curvature, const Vector& before) {
  constexpr double kShare = 0.03;
  Vector steps = before;
  for (Eigen::Index i = 0; i < steps.size(); ++i) {
    if (curvature(i, i) < 0 && std::isfinite(curvature(i, i))) steps[i] = kShare / std::sqrt(-curvature(i, i));
  }
  return steps;
}

/// The step to the top of the parabola; where it curves upwards, as if it curved downwards as much.
Vector newton_step(const Matrix& curvature, const Vector& slope) {
  const Eigen::SelfAdjointEigenSolver<Matrix> solved(curvature);
  const Vector along = solved.eigenvectors().transpose() * slope;
  const double least = 1e-10 * solved.eigenvalues().cwiseAbs().maxCoeff() + 1e-300;
  return solved.eigenvectors() * (along.array() / solved.eigenvalues().cwiseAbs().array().max(least)).matrix();
}

/// Whether it falls to both sides along every axis of its curvature, about as a parabola would over one sd: not where
/// it only flattens out.
bool is_peak(const Function& f, const Vector& x, const Matrix& curvature) {
  constexpr double kLeastFall = 0.05;                                             // a parabola's is 0.5
  const Vector sds = curvature.diagonal().cwiseAbs().cwiseSqrt().cwiseInverse();  // the others held
  const Eigen::SelfAdjointEigenSolver<Matrix> solved(-(sds.asDiagonal() * curvature * sds.asDiagonal()));
  const double here = at(f, x);
  for (Eigen::Index i = 0; i < x.size(); ++i) {
    const double width = 1 / std::sqrt(std::fabs(solved.eigenvalues()[i]));
    const Vector axis = width * sds.cwiseProduct(solved.eigenvectors().col(i));
    if (!(at(f, x + axis) < here - kLeastFall && at(f, x - axis) < here - kLeastFall)) return false;
  }
  return true;
}

}  // namespace

double MaximumLikelihood::standard_error(std::size_t parameter) const {
  return std::sqrt(covariance[parameter * (estimate.size() + 1)]);
}

double MaximumLikelihood::standard_error_of(std::span<const double> gradient) const {
  const auto n = static_cast<Eigen::Index>(estimate.size());
  const Eigen::Map<const Vector> g(gradient.data(), n);
  return std::sqrt(g.dot(Eigen::Map<const Matrix>(covariance.data(), n, n) * g));
}

Result<MaximumLikelihood> maximise(const Function& log_likelihood, std::vector<double> start) {
  constexpr int kMostSteps = 200;
  constexpr double kSettled = 1e-9;  // of an sd
  const Error none{.problem = "the likelihood of these counts has no single peak"};
  const auto n = static_cast<Eigen::Index>(start.size());
  Vector x = Eigen::Map<const Vector>(start.data(), n);
  Vector steps = Vector::Constant(n, 1e-4);
  double here = at(log_likelihood, x);
  bool settled = false;
  for (int step = 0; step < kMostSteps && !settled; ++step) {
    const Matrix curvature = curvature_of(log_likelihood, x, steps, 1);
    steps = steps_from(curvature, steps);
    const Vector slope = slope_of(log_likelihood, x, steps);
    if (!curvature.allFinite() || !slope.allFinite()) return none;
    Vector by = newton_step(curvature, slope);
    double there = at(log_likelihood, x + by);
    for (int halving = 0; !(there >= here) && halving < 40; ++halving) there = at(log_likelihood, x + (by /= 2));
    settled = by.cwiseQuotient(steps).cwiseAbs().maxCoeff() < kSettled * 100 || !(there > here);
    if (there >= here) x += by;
    here = std::max(here, there);
  }
  const Matrix curvature =
      (4 * curvature_of(log_likelihood, x, steps, 1) - curvature_of(log_likelihood, x, steps, 2)) / 3;
  const Eigen::LLT<Matrix> factor(-curvature);
  if (!settled || !curvature.allFinite() || factor.info() != Eigen::Success) return none;
  if (!is_peak(log_likelihood, x, curvature)) return none;
  const Matrix covariance = factor.solve(Matrix::Identity(n, n));
  return MaximumLikelihood{.estimate = {x.begin(), x.end()},
                           .covariance = {covariance.data(), covariance.data() + covariance.size()},
                           .log_likelihood = here};
}

}  // namespace strikebed::evidence
