#include "evidence/interval_times.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

#include "base/random.hpp"
#include "evidence/rate_curve.hpp"

namespace strikebed::evidence {
namespace {

double share_below(TimeShape shape, double z) {
  if (shape == TimeShape::lognormal) return normal_share_below(z);
  return shape == TimeShape::loglogistic ? 1 / (1 + std::exp(-z)) : -std::expm1(-std::exp(z));
}
double share_above(TimeShape shape, double z) {
  if (shape == TimeShape::weibull) return std::exp(-std::exp(z));
  return share_below(shape, -z);  // the others are even
}
double score_at(TimeShape shape, double p) {
  if (shape == TimeShape::lognormal) return normal_quantile(p);
  return shape == TimeShape::loglogistic ? logit_of(p) : std::log(-std::log1p(-p));
}
/// Between two scores, from the side on which it keeps its digits.
double share_between(TimeShape shape, double low, double high) {
  return low > 0 ? share_above(shape, low) - share_above(shape, high)
                 : share_below(shape, high) - share_below(shape, low);
}

std::optional<Error> wrong_counts(std::span<const IntervalCount> counts) {
  double sum = 0;
  for (const IntervalCount& interval : counts) {
    if (!(interval.after >= 0 && interval.by > interval.after && interval.count >= 0)) {
      return Error{.problem = "an interval of time is none, or its count is below 0",
                   .allowed = "after >= 0, by > after, count >= 0"};
    }
    sum += interval.count;
  }
  if (sum > 0) return std::nullopt;
  return Error{.problem = "there are no counts"};
}

/// Where to start: the mean and sd of the logarithms of where the intervals end or begin.
std::vector<double> start_of(std::span<const IntervalCount> counts) {
  double sum = 0;
  double mean = 0;
  double square = 0;
  for (const IntervalCount& interval : counts) {
    const double by = std::isfinite(interval.by) ? interval.by : interval.after;
    const double log = std::log((interval.after + by) / 2);
    sum += interval.count;
    mean += interval.count * log;
    square += interval.count * log * log;
  }
  mean /= sum;
  return {mean, 0.5 * std::log(std::max(square / sum - mean * mean, 0.01))};
}

}  // namespace

double TimesFit::scale() const { return std::exp(fitted.estimate[1]); }
double TimesFit::share() const { return fitted.estimate.size() > 2 ? share_of(fitted.estimate[2]) : 1; }
double TimesFit::share_error() const {
  return fitted.estimate.size() > 2 ? fitted.standard_error(2) * share() * (1 - share()) : 0;
}
double TimesFit::log_quantile(double p) const { return location() + scale() * score_at(shape, p); }
double TimesFit::log_quantile_error(double p) const {
  std::vector<double> gradient{1, scale() * score_at(shape, p), 0};
  gradient.resize(fitted.estimate.size());
  return fitted.standard_error_of(gradient);
}

Result<TimesFit> fit_interval_times(std::span<const IntervalCount> counts, TimeShape shape, bool some_never) {
  if (auto wrong = wrong_counts(counts)) return *wrong;
  const auto log_likelihood = [&](std::span<const double> parameters) {
    const double scale = std::exp(parameters[1]);
    const double share = some_never ? share_of(parameters[2]) : 1;
    const auto score = [&](double time) { return (std::log(time) - parameters[0]) / scale; };
    double sum = 0;
    for (const auto& [after, by, count] : counts) {
      if (count == 0) continue;
      const double chance = std::isfinite(by) ? share * share_between(shape, score(after), score(by))
                                              : 1 - share + share * share_above(shape, score(after));
      sum += count * std::log(chance);
    }
    return sum;
  };
  std::vector<double> start = start_of(counts);
  if (some_never) {
    std::vector<IntervalCount> seen(counts.begin(), counts.end());
    std::erase_if(seen, [](const IntervalCount& interval) { return !std::isfinite(interval.by); });
    if (wrong_counts(seen)) return Error{.problem = "none was seen to come"};
    start = start_of(seen);
    start.push_back(0);
  }
  auto fitted = maximise(log_likelihood, std::move(start));
  if (!fitted) return fitted.error();
  return TimesFit{std::move(fitted).value(), shape};
}

Result<std::vector<IntervalMass>> turnbull(std::span<const IntervalCount> counts) {
  if (auto wrong = wrong_counts(counts)) return *wrong;
  struct End {
    double at;
    bool begins;  // an interval begins after its left end, so a right end at the same time comes first
    auto operator<=>(const End&) const = default;
  };
  std::vector<End> ends;
  double sum = 0;
  for (const IntervalCount& interval : counts) {
    if (interval.count == 0) continue;
    ends.push_back({interval.after, true});
    ends.push_back({interval.by, false});
    sum += interval.count;
  }
  std::sort(ends.begin(), ends.end());
  std::vector<IntervalMass> masses;  // only between a left end and a right end that follows it
  for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
    if (ends[i].begins && !ends[i + 1].begins) masses.push_back({ends[i].at, ends[i + 1].at, 0});
  }
  for (IntervalMass& mass : masses) mass.mass = 1 / static_cast<double>(masses.size());
  constexpr int kMostRounds = 100'000;
  constexpr double kSettled = 1e-12;
  for (int round = 0; round < kMostRounds; ++round) {
    std::vector<double> next(masses.size());
    for (const IntervalCount& interval : counts) {
      if (interval.count == 0) continue;
      const auto within = [&](const IntervalMass& mass) {
        return mass.after >= interval.after && mass.by <= interval.by;
      };
      double held = 0;
      for (const IntervalMass& mass : masses) held += within(mass) ? mass.mass : 0;
      for (std::size_t j = 0; j < masses.size(); ++j) {
        if (within(masses[j])) next[j] += interval.count / sum * masses[j].mass / held;
      }
    }
    double moved = 0;
    for (std::size_t j = 0; j < masses.size(); ++j) {
      moved = std::max(moved, std::fabs(std::exchange(masses[j].mass, next[j]) - next[j]));
    }
    if (moved < kSettled) break;
  }
  constexpr double kLeast = 1e-7;
  std::erase_if(masses, [](const IntervalMass& mass) { return mass.mass < kLeast; });
  return masses;
}

double log_likelihood(std::span<const IntervalMass> masses, std::span<const IntervalCount> counts) {
  double sum = 0;
  for (const IntervalCount& interval : counts) {
    double held = 0;
    for (const IntervalMass& mass : masses) {
      if (mass.after >= interval.after && mass.by <= interval.by) held += mass.mass;
    }
    if (interval.count > 0) sum += interval.count * std::log(held);
  }
  return sum;
}

}  // namespace strikebed::evidence
