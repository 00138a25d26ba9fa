// Published checks of what counts tell: times between looks, batches that differ, ordered stages.
#include <cmath>
#include <limits>

#include "evidence/batch_effect.hpp"
#include "evidence/beta_binomial_groups.hpp"
#include "evidence/interval_times.hpp"
#include "evidence/ordinal.hpp"
#include "evidence/share_terms.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

/// "by" 0: not seen to come.
std::vector<evidence::IntervalCount> interval_counts(const CheckInputs& in) {
  std::vector<evidence::IntervalCount> counts;
  for (const auto& [after, by, count] : in.rows<3>({"after", "by", "count"})) {
    counts.push_back({after, by == 0 ? std::numeric_limits<double>::infinity() : by, count});
  }
  return counts;
}

Computed shapeless_times(const CheckInputs& in) {
  const auto counts = interval_counts(in);
  const auto masses = in.value_of(evidence::turnbull(counts));
  Computed out;
  for (const evidence::IntervalMass& mass : masses) {
    out.add("after", mass.after);
    out.add("by", mass.by);
    out.add("mass", mass.mass);
  }
  out.add("log_likelihood", evidence::log_likelihood(masses, counts));
  return out;
}

evidence::TimeShape time_shape(const CheckInputs& in, const std::string& name) {
  if (name == "weibull") return evidence::TimeShape::weibull;
  if (name == "loglogistic") return evidence::TimeShape::loglogistic;
  if (name != "lognormal") in.give_up("there is no such shape of times: " + name);
  return evidence::TimeShape::lognormal;
}

/// A fit for each of the shapes; "some_never" 1: with the share that comes at all.
Computed shaped_times(const CheckInputs& in) {
  const auto counts = interval_counts(in);
  const bool some_never = in.whole("some_never") == 1;
  Computed out;
  for (const std::string& shape : in.texts("shape")) {
    const auto fit = evidence::fit_interval_times(counts, time_shape(in, shape), some_never);
    if (!fit) return in.give_up(fit.error().message());
    out.add("location", fit->location());
    out.add("location_se", fit->fitted.standard_error(0));
    out.add("scale", fit->scale());
    out.add("log_scale_se", fit->fitted.standard_error(1));
    out.add("share", fit->share());
    out.add("share_se", fit->share_error());
    out.add("log_likelihood", fit->fitted.log_likelihood);
    for (const double p : in.numbers("quantile")) {
      if (!(p > 0 && p < 1)) return in.give_up("a quantile is of a share between 0 and 1");
      out.add("log_time", fit->log_quantile(p));
      out.add("log_time_se", fit->log_quantile_error(p));
    }
  }
  return out;
}

std::vector<evidence::GroupCount> group_counts(const CheckInputs& in) {
  std::vector<evidence::GroupCount> groups;
  for (const auto& [good, of] : in.rows<2>({"good", "of"})) {
    groups.push_back({static_cast<int>(good), static_cast<int>(of)});
  }
  return groups;
}

/// The long run, and batches of which so many were good of so many ("seen_good", "seen_of"; 0 of 0 a new one).
Computed differing_batches(const CheckInputs& in) {
  const auto fit = evidence::BetaBinomialGroups::of(group_counts(in));
  if (!fit) return in.give_up(fit.error().message());
  Computed out;
  out.add("mean", fit->long_run().mean);
  out.add("sd", fit->long_run().sd);
  out.add("intraclass", fit->intraclass_correlation());
  for (const auto& [good, of] : in.rows<2>({"seen_good", "seen_of"})) {
    const auto rate = fit->rate({static_cast<int>(good), static_cast<int>(of)});
    out.add("rate_mean", rate.mean);
    out.add("rate_sd", rate.sd);
  }
  return out;
}

Computed differing_batches_quantiles(const CheckInputs& in) {
  const auto fit = evidence::BetaBinomialGroups::of(group_counts(in));
  if (!fit) return in.give_up(fit.error().message());
  Computed out;
  for (const double p : in.numbers("quantile")) {
    out.add("long_run", fit->long_run_quantile(p));
    out.add("rate", fit->rate_quantile({in.whole("seen_good"), in.whole("seen_of")}, p));
  }
  return out;
}

Computed counts_of_a_new_batch(const CheckInputs& in) {
  const auto fit = evidence::BetaBinomialGroups::of(group_counts(in));
  if (!fit) return in.give_up(fit.error().message());
  if (in.whole("new_of") < 0) return in.give_up("a batch has 0 or more");
  Computed out;
  for (const double chance : fit->new_counts(in.whole("new_of"))) out.add("chance", chance);
  return out;
}

/// Rows of good of so many about a logit each, every row with a normal effect of its own.
Computed random_intercepts(const CheckInputs& in) {
  double sum = 0;
  for (const auto& [good, of, logit, spread] : in.rows<4>({"good", "of", "logit", "spread"})) {
    const evidence::BatchSeen seen{.samples = {{.at = 1, .through = good, .of = of}}};
    const evidence::ShareTerms terms(seen, {.log_median = -100, .spread = 1, .delay = 0});  // all is over
    sum += evidence::over_batch_effect(terms, logit, std::fabs(spread)).value;
  }
  Computed out;
  out.add("log_likelihood", sum);
  return out;
}

/// "counts" row by row, of so many "stages"; "covariates" row by row too.
Computed ordered_stages(const CheckInputs& in) {
  const std::vector<double> counts = in.numbers("counts");
  const std::vector<double> covariates = in.numbers("covariates");
  const auto stages = static_cast<std::size_t>(std::max(in.whole("stages"), 1));
  const std::size_t n = counts.size() / stages;
  if (n == 0 || counts.size() % stages != 0 || covariates.size() % n != 0) {
    return in.give_up("counts and covariates do not make whole rows");
  }
  const std::size_t width = covariates.size() / n;
  std::vector<evidence::StageCounts> rows;
  for (std::size_t i = 0; i < n; ++i) {
    const auto first = covariates.begin() + static_cast<std::ptrdiff_t>(i * width);
    const auto count = counts.begin() + static_cast<std::ptrdiff_t>(i * stages);
    rows.push_back({.covariates = {first, first + static_cast<std::ptrdiff_t>(width)},
                    .counts = {count, count + static_cast<std::ptrdiff_t>(stages)}});
  }
  const bool probit = in.text("link") == "probit";
  const auto fit =
      evidence::fit_ordinal(rows, probit ? evidence::CumulativeLink::probit : evidence::CumulativeLink::logit);
  if (!fit) return in.give_up(fit.error().message());
  Computed out;
  for (std::size_t i = 0; i < fit->fitted.estimate.size(); ++i) {
    out.add("estimate", fit->fitted.estimate[i]);
    out.add("se", fit->fitted.standard_error(i));
  }
  out.add("log_likelihood", fit->fitted.log_likelihood);
  if (width > 1) return out;
  for (std::size_t k = 0; k < fit->thresholds; ++k) {
    out.add("log_median", fit->crossing_log_median(k));
    out.add("log_median_se", fit->crossing_log_median_error(k));
  }
  out.add("log_sd", fit->crossing_log_sd());
  if (in.has("at")) {
    for (const double at : in.numbers("at")) {
      for (const double share : fit->shares_at(std::vector<double>{at})) out.add("share", share);
    }
  }
  return out;
}

}  // namespace

Computations fitting_computations() {
  return {
      {"interval_times_turnbull", shapeless_times},  {"interval_times_fit", shaped_times},
      {"batches_beta_binomial", differing_batches},  {"batches_beta_binomial_quantiles", differing_batches_quantiles},
      {"batches_new_counts", counts_of_a_new_batch}, {"batches_random_intercepts", random_intercepts},
      {"stages_ordinal_fit", ordered_stages}};
}

}  // namespace strikebed::nursery
