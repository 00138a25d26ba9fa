#include "evidence/share_terms.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "base/random.hpp"
#include "evidence/logistic.hpp"

namespace strikebed::evidence {
namespace {

constexpr double kSmallest = 1e-290;

/// count * ln(1 - p F), log_after = ln(1 - F): ln((1 + (1 - F) e^logit) / (1 + e^logit)).
LogLikelihoodAt not_through(double logit, const Logistic& here, double log_after, double count) {
  const Logistic late(logit + log_after);
  return {count * (late.softplus - here.softplus), count * (late.share - here.share),
          count * (late.share * (1 - late.share) - here.share * (1 - here.share))};
}

double log_of(double share) { return std::log(std::max(share, kSmallest)); }

/// The normal share beyond a score, on its own side of the middle: where it keeps its digits.
struct Tail {
  double score, beyond;
  explicit Tail(double at) : score(at), beyond(normal_share_below(-std::fabs(at))) {}
  [[nodiscard]] double above() const { return score > 0 ? beyond : 1 - beyond; }
  [[nodiscard]] double below() const { return score > 0 ? 1 - beyond : beyond; }
};
double share_between(const Tail& low, const Tail& high) {
  if (low.score > 0) return low.beyond - high.beyond;
  return high.score < 0 ? high.beyond - low.beyond : 1 - low.beyond - high.beyond;
}

}  // namespace

double PassingTime::score(double time) const {
  const double since = time - delay;
  return since > 0 ? (std::log(since) - log_median) / spread : -std::numeric_limits<double>::infinity();
}

ShareTerms::ShareTerms(const BatchSeen& seen, const PassingTime& time, double failure_half_life)
    : waiting_(seen.waiting) {
  double at = 0;
  Tail tail(time.score(at));  // of the look before, which mostly is where the next interval begins
  const auto tail_at = [&](double look) {
    if (look != at) tail = Tail(time.score(at = look));
    return tail;
  };
  for (const BatchSeen::Passed& passed : seen.passed) {
    const Tail low = tail_at(passed.after);
    constant_ += passed.count * log_of(share_between(low, tail_at(passed.by)));
    passed_ += passed.count;
  }
  log_after_ = log_of(tail_at(seen.waited_by).above());
  for (const BatchSeen::Lost& lost : seen.lost) lost_ += lost.count;
  if (std::isfinite(failure_half_life)) add_losses(seen, {std::log(failure_half_life), kFailureSpread, 0});
  samples_.reserve(seen.samples.size());
  for (const BatchSeen::Sample& sample : seen.samples) {
    const Tail looked = tail_at(sample.at);
    samples_.push_back({log_of(looked.below()), log_of(looked.above()), sample.weight * sample.through,
                        sample.weight * (sample.of - sample.through)});
  }
}

void ShareTerms::add_losses(const BatchSeen& seen, const PassingTime& age) {
  // Each of the lost never comes through; each that waits is one of these not lost yet, or late.
  for (const BatchSeen::Lost& lost : seen.lost) {
    constant_ += lost.count * log_of(share_between(Tail(age.score(lost.after)), Tail(age.score(lost.by))));
  }
  if (seen.age <= 0) return;
  const double log_left = log_of(Tail(age.score(seen.age)).above());
  constant_ += waiting_ * log_left;
  log_after_ -= log_left;
}

LogLikelihoodAt ShareTerms::operator()(double logit) const {
  logit = std::clamp(logit, -kFarthestLogit, kFarthestLogit);
  const Logistic here(logit);
  LogLikelihoodAt all{constant_};
  all += through(logit, here, passed_);
  for (const Sample& sample : samples_) {
    all.value += sample.through * sample.log_through;
    all += through(logit, here, sample.through);
    all += not_through(logit, here, sample.log_after, sample.others);
  }
  all += never(here, lost_);
  all += not_through(logit, here, log_after_, waiting_);
  return all;
}

double ShareTerms::chance_of_waiting(double logit) const { return Logistic(logit + log_after_).share; }

}  // namespace strikebed::evidence
