#include "evidence/ordinal.hpp"

#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <utility>

#include "base/random.hpp"
#include "evidence/rate_curve.hpp"

namespace strikebed::evidence {
namespace {

double share_below(CumulativeLink link, double z) {
  return link == CumulativeLink::probit ? normal_share_below(z) : share_of(z);
}
/// Both links are even.
double share_between(CumulativeLink link, double low, double high) {
  return low > 0 ? share_below(link, -low) - share_below(link, -high)
                 : share_below(link, high) - share_below(link, low);
}

double share_of_stage(CumulativeLink link, std::span<const double> parameters, std::size_t thresholds,
                      std::size_t stage, std::span<const double> covariates) {
  const double moved = std::inner_product(covariates.begin(), covariates.end(),
                                          parameters.begin() + static_cast<std::ptrdiff_t>(thresholds), 0.0);
  constexpr double kFar = std::numeric_limits<double>::infinity();
  return share_between(link, stage == 0 ? -kFar : parameters[stage - 1] - moved,
                       stage == thresholds ? kFar : parameters[stage] - moved);
}

std::optional<Error> wrong_rows(std::span<const StageCounts> rows) {
  if (rows.empty()) return Error{.problem = "there are no counts of stages"};
  const std::size_t stages = rows.front().counts.size();
  std::vector<double> sums(stages);
  for (const StageCounts& row : rows) {
    if (row.counts.size() != stages || row.covariates.size() != rows.front().covariates.size()) {
      return Error{.problem = "the rows of stages are not all of one length"};
    }
    for (std::size_t k = 0; k < stages; ++k) sums[k] += row.counts[k];
  }
  for (const double sum : sums) {
    if (stages < 2 || !(sum > 0)) {
      return Error{.problem = "a stage that nobody is in has no threshold",
                   .allowed = "two stages or more, all counted"};
    }
  }
  return std::nullopt;
}

}  // namespace

std::vector<double> OrdinalFit::shares_at(std::span<const double> covariates) const {
  std::vector<double> shares;
  for (std::size_t stage = 0; stage <= thresholds; ++stage) {
    shares.push_back(share_of_stage(link, fitted.estimate, thresholds, stage, covariates));
  }
  return shares;
}

double OrdinalFit::crossing_log_median(std::size_t k) const { return fitted.estimate[k] / fitted.estimate[thresholds]; }
double OrdinalFit::crossing_log_median_error(std::size_t k) const {
  std::vector<double> gradient(fitted.estimate.size());
  const double slope = fitted.estimate[thresholds];
  gradient[k] = 1 / slope;
  gradient[thresholds] = -fitted.estimate[k] / (slope * slope);
  return fitted.standard_error_of(gradient);
}
double OrdinalFit::crossing_log_sd() const { return 1 / fitted.estimate[thresholds]; }

Result<OrdinalFit> fit_ordinal(std::span<const StageCounts> rows, CumulativeLink link) {
  if (auto wrong = wrong_rows(rows)) return *wrong;
  const std::size_t thresholds = rows.front().counts.size() - 1;
  std::vector<double> sums(thresholds + 1);
  for (const StageCounts& row : rows) {
    for (std::size_t k = 0; k <= thresholds; ++k) sums[k] += row.counts[k];
  }
  const double all = std::accumulate(sums.begin(), sums.end(), 0.0);
  std::vector<double> start;
  double below = 0;
  for (std::size_t k = 0; k < thresholds; ++k) {
    const double share = (below += sums[k]) / all;
    start.push_back(link == CumulativeLink::probit ? normal_quantile(share) : logit_of(share));
  }
  start.resize(thresholds + rows.front().covariates.size(), 0);
  const auto log_likelihood = [&](std::span<const double> parameters) {
    double sum = 0;
    for (const StageCounts& row : rows) {
      for (std::size_t k = 0; k <= thresholds; ++k) {
        if (row.counts[k] == 0) continue;
        const double share = share_of_stage(link, parameters, thresholds, k, row.covariates);
        if (!(share > 0)) return -std::numeric_limits<double>::infinity();
        sum += row.counts[k] * std::log(share);
      }
    }
    return sum;
  };
  auto fitted = maximise(log_likelihood, std::move(start));
  if (!fitted) return fitted.error();
  return OrdinalFit{std::move(fitted).value(), thresholds, link};
}

}  // namespace strikebed::evidence
