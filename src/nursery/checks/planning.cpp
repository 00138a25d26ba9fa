// Published checks of counting: intervals, binomial and beta-binomial planning and beliefs.
#include <cmath>

#include "evidence/beta.hpp"
#include "evidence/beta_binomial.hpp"
#include "evidence/binomial.hpp"
#include "evidence/intervals.hpp"
#include "evidence/replicates.hpp"
#include "nursery/checks/computations.hpp"

namespace strikebed::nursery {
namespace {

constexpr int kEnoughTries = 10'000'000;

double binomial_at_least(int wanted, double number, double chance) {
  return evidence::chance_at_least(wanted, number * chance, number * chance * (1 - chance));
}

int binomial_smallest(const CheckInputs& in, int wanted, double chance, double assurance) {
  const auto number = evidence::smallest_number(wanted, chance, assurance, kEnoughTries);
  if (!number) in.give_up("no number is enough");
  return number.value_or(1);
}

template <Result<evidence::Interval> (*interval)(double, double, double)>
Computed interval_of(const CheckInputs& in) {
  Computed out;
  for (const auto& [good, of, level] : in.rows<3>({"good", "of", "level"})) {
    const evidence::Interval limits = in.value_of(interval(good, of, level));
    out.add("low", limits.low);
    out.add("high", limits.high);
  }
  return out;
}

Computed binomial_tail(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, number, chance] : in.rows<3>({"wanted", "number", "chance"}))
    out.add("chance", binomial_at_least(static_cast<int>(wanted), number, chance));
  return out;
}

Computed binomial_number(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, chance, assurance] : in.rows<3>({"wanted", "chance", "assurance"}))
    out.add("number", binomial_smallest(in, static_cast<int>(wanted), chance, assurance));
  return out;
}

Computed beta_binomial_tail(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, number, alpha, beta] : in.rows<4>({"wanted", "number", "alpha", "beta"}))
    out.add("chance",
            evidence::beta_binomial_at_least(static_cast<int>(wanted), static_cast<int>(number), alpha, beta));
  return out;
}

Computed beta_binomial_mean_and_variance(const CheckInputs& in) {
  Computed out;
  for (const auto& [number, alpha, beta] : in.rows<3>({"number", "alpha", "beta"})) {
    const auto moments = evidence::beta_binomial_moments(static_cast<int>(number), alpha, beta);
    out.add("mean", moments.mean);
    out.add("variance", moments.variance);
  }
  return out;
}

Computed beta_binomial_number(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, assurance, alpha, beta] : in.rows<4>({"wanted", "assurance", "alpha", "beta"})) {
    const auto number = evidence::beta_binomial_smallest_number(static_cast<int>(wanted), assurance, alpha, beta);
    if (!number) return in.give_up("no number is enough");
    out.add("number", *number);
  }
  return out;
}

Computed replicate_range(const CheckInputs& in) {
  Computed out;
  for (const auto& [range, replicates, seeds, share] : in.rows<4>({"range", "replicates", "seeds", "share"}))
    out.add("chance", evidence::chance_range_at_most(static_cast<int>(range), static_cast<int>(replicates),
                                                     static_cast<int>(seeds), share));
  return out;
}

Computed replicate_tolerance(const CheckInputs& in) {
  Computed out;
  for (const auto& [replicates, seeds, share, risk] : in.rows<4>({"replicates", "seeds", "share", "risk"}))
    out.add("range", evidence::tolerated_range(static_cast<int>(replicates), static_cast<int>(seeds), share, risk));
  return out;
}

/// The believed Beta, its mean and three of its points.
void add_beta(const CheckInputs& in, const Result<evidence::Beta>& fitted, Computed& out) {
  const evidence::Beta belief = in.value_of(fitted);
  out.add("a", belief.a);
  out.add("b", belief.b);
  out.add("mean", belief.mean());
  out.add("low", belief.quantile(0.05));
  out.add("median", belief.quantile(0.5));
  out.add("high", belief.quantile(0.95));
}

Computed belief_from_test(const CheckInputs& in) {
  Computed out;
  for (const auto& [good, of] : in.rows<2>({"good", "of"})) add_beta(in, evidence::beta_from_test(good, of), out);
  return out;
}

Computed belief_from_range(const CheckInputs& in) {
  Computed out;
  for (const auto& [low, high] : in.rows<2>({"low", "high"})) add_beta(in, evidence::beta_from_range(low, high), out);
  return out;
}

Computed belief_from_three(const CheckInputs& in) {
  Computed out;
  for (const auto& [low, about, high] : in.rows<3>({"low", "about", "high"}))
    add_beta(in, evidence::beta_from_three(low, about, high), out);
  return out;
}

/// Lines that must all succeed are equally sure: each with the L-th root of the assurance.
Computed chain_lines(const CheckInputs& in) {
  Computed out;
  for (const auto& [wanted, lines, chance, assurance] : in.rows<4>({"wanted", "lines", "chance", "assurance"})) {
    const int plants = static_cast<int>(wanted);
    const int number = binomial_smallest(in, plants, chance, std::pow(assurance, 1 / lines));
    out.add("number", number);
    out.add("chance_all", std::pow(binomial_at_least(plants, number, chance), lines));
  }
  return out;
}

}  // namespace

Computations planning_computations() {
  return {{"interval_clopper_pearson", interval_of<evidence::clopper_pearson>},
          {"interval_wilson", interval_of<evidence::wilson>},
          {"interval_jeffreys", interval_of<evidence::jeffreys>},
          {"binomial_at_least", binomial_tail},
          {"binomial_smallest_number", binomial_number},
          {"beta_binomial_at_least", beta_binomial_tail},
          {"beta_binomial_moments", beta_binomial_mean_and_variance},
          {"beta_binomial_smallest_number", beta_binomial_number},
          {"replicate_range_chance", replicate_range},
          {"replicate_tolerance", replicate_tolerance},
          {"belief_from_test", belief_from_test},
          {"belief_from_range", belief_from_range},
          {"belief_from_three", belief_from_three},
          {"chain_lines", chain_lines}};
}

}  // namespace strikebed::nursery
