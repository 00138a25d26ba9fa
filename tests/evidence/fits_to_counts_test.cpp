// Fits by likelihood alone: small cases by hand, symmetries, and what is refused. Their numbers are held against
// published ones in tests/reference/interval_times.json, stages.json and batches.json.
#include <gtest/gtest.h>

#include <cmath>
#include <limits>
#include <numeric>

#include "evidence/beta_binomial_groups.hpp"
#include "evidence/interval_times.hpp"
#include "evidence/maximum_likelihood.hpp"
#include "evidence/ordinal.hpp"

namespace strikebed::evidence {
namespace {

constexpr double kOpen = std::numeric_limits<double>::infinity();

TEST(MaximumLikelihood, OfABinomialShare) {
  const auto log_likelihood = [](std::span<const double> p) {
    return p[0] > 0 && p[0] < 1 ? 41 * std::log(p[0]) + 9 * std::log(1 - p[0]) : -kOpen;
  };
  const auto fit = maximise(log_likelihood, {0.2});
  ASSERT_TRUE(fit.ok());
  EXPECT_NEAR(fit->estimate[0], 0.82, 1e-7);
  EXPECT_NEAR(fit->standard_error(0), std::sqrt(0.82 * 0.18 / 50), 1e-7);
  EXPECT_NEAR(fit->standard_error_of(std::vector<double>{2}), 2 * fit->standard_error(0), 1e-12);
}

TEST(MaximumLikelihood, RefusesWhatHasNoPeak) {
  EXPECT_FALSE(maximise([](std::span<const double> p) { return -std::exp(-p[0]); }, {0}).ok());
  EXPECT_FALSE(maximise([](std::span<const double> p) { return -p[0] * p[0]; }, {0.3, 1}).ok());
}

TEST(IntervalTimes, RefuseWhatTellsNothing) {
  EXPECT_FALSE(fit_interval_times({}, TimeShape::lognormal, false).ok());
  const std::vector<IntervalCount> backwards{{5, 4, 3}};
  EXPECT_FALSE(fit_interval_times(backwards, TimeShape::lognormal, false).ok());
  EXPECT_FALSE(turnbull(backwards).ok());
  const std::vector<IntervalCount> never{{5, kOpen, 3}};
  EXPECT_FALSE(fit_interval_times(never, TimeShape::lognormal, true).ok());
}

// Time in other units moves the location and nothing else.
TEST(IntervalTimes, UnitsMoveTheLocationOnly) {
  const std::vector<IntervalCount> days{{2, 4, 3}, {4, 6, 17}, {6, 8, 38}, {8, 12, 20}, {12, kOpen, 9}};
  std::vector<IntervalCount> hours = days;
  for (IntervalCount& interval : hours) {
    interval.after *= 24;
    interval.by *= 24;
  }
  for (const TimeShape shape : {TimeShape::lognormal, TimeShape::loglogistic, TimeShape::weibull}) {
    const auto in_days = fit_interval_times(days, shape, true);
    const auto in_hours = fit_interval_times(hours, shape, true);
    ASSERT_TRUE(in_days.ok() && in_hours.ok());
    EXPECT_NEAR(in_hours->location() - in_days->location(), std::log(24), 1e-6);
    EXPECT_NEAR(in_hours->scale(), in_days->scale(), 1e-6);
    EXPECT_NEAR(in_hours->share(), in_days->share(), 1e-6);
    EXPECT_LT(in_days->log_quantile(0.1), in_days->log_quantile(0.9));
  }
}

// Intervals that do not overlap: the shares counted. One that covers all changes nothing.
TEST(Turnbull, OfSeparateIntervalsAreTheShares) {
  const std::vector<IntervalCount> counts{{0, 2, 3}, {2, 5, 5}, {5, kOpen, 2}, {0, kOpen, 7}};
  const auto masses = turnbull(counts);
  ASSERT_TRUE(masses.ok());
  ASSERT_EQ(masses->size(), 3U);
  EXPECT_NEAR((*masses)[0].mass, 0.3, 1e-9);
  EXPECT_NEAR((*masses)[1].mass, 0.5, 1e-9);
  EXPECT_NEAR(log_likelihood(*masses, counts), 3 * std::log(0.3) + 5 * std::log(0.5) + 2 * std::log(0.2), 1e-9);
}

// Two stages and no covariates worth the name: the threshold is the score of the share.
TEST(Ordinal, TwoStagesAreABinomial) {
  const std::vector<StageCounts> rows{{{-1}, {10, 30}}, {{1}, {10, 30}}};
  const auto fit = fit_ordinal(rows, CumulativeLink::logit);
  ASSERT_TRUE(fit.ok());
  EXPECT_NEAR(fit->fitted.estimate[0], std::log(1.0 / 3), 1e-6);
  EXPECT_NEAR(fit->fitted.estimate[1], 0, 1e-6);
  const auto shares = fit->shares_at(std::vector<double>{0.5});
  EXPECT_NEAR(shares[0], 0.25, 1e-6);
  EXPECT_NEAR(std::accumulate(shares.begin(), shares.end(), 0.0), 1, 1e-12);
}

TEST(Ordinal, RefusesRowsThatDoNotFit) {
  EXPECT_FALSE(fit_ordinal({}, CumulativeLink::probit).ok());
  EXPECT_FALSE(fit_ordinal(std::vector<StageCounts>{{{1}, {3, 4}}, {{1}, {3, 4, 5}}}, CumulativeLink::probit).ok());
  EXPECT_FALSE(fit_ordinal(std::vector<StageCounts>{{{1}, {3, 0}}, {{2}, {4, 0}}}, CumulativeLink::probit).ok());
  EXPECT_FALSE(fit_ordinal(std::vector<StageCounts>{{{1}, {3, 0}}, {{2}, {0, 4}}}, CumulativeLink::probit).ok());
}

// Good and bad change places; what is drawn in and what is to come agree.
TEST(BetaBinomialGroups, MirrorWhenTheBadAreCounted) {
  const std::vector<GroupCount> good{{10, 39}, {23, 62}, {23, 81}, {26, 51}};
  std::vector<GroupCount> bad;
  for (const GroupCount& group : good) bad.push_back({group.of - group.good, group.of});
  const auto up = BetaBinomialGroups::of(good);
  const auto down = BetaBinomialGroups::of(bad);
  ASSERT_TRUE(up.ok() && down.ok());
  EXPECT_NEAR(up->long_run().mean, 1 - down->long_run().mean, 1e-6);
  EXPECT_NEAR(up->rate({10, 39}).mean, 1 - down->rate({29, 39}).mean, 1e-6);
  EXPECT_NEAR(up->long_run_quantile(0.9), 1 - down->long_run_quantile(0.1), 1e-4);
  const auto counts = up->new_counts(12);
  double mean = 0;
  for (std::size_t k = 0; k < counts.size(); ++k) mean += counts[k] * static_cast<double>(k);
  EXPECT_NEAR(std::accumulate(counts.begin(), counts.end(), 0.0), 1, 1e-9);
  EXPECT_NEAR(mean, 12 * up->rate({0, 0}).mean, 1e-6);
}

TEST(BetaBinomialGroups, APlateIsDrawnTowardsTheOthers) {
  const std::vector<GroupCount> groups{{0, 20}, {4, 20}, {5, 20}, {6, 20}};
  const auto fit = BetaBinomialGroups::of(groups);
  ASSERT_TRUE(fit.ok());
  EXPECT_GT(fit->rate({0, 20}).mean, 1.0 / 22);
  EXPECT_LT(fit->rate({0, 20}).mean, fit->long_run().mean);
}

TEST(BetaBinomialGroups, RefusesWhatIsNoCountAndOneBatch) {
  EXPECT_FALSE(BetaBinomialGroups::of(std::vector<GroupCount>{{3, 20}}).ok());
  EXPECT_FALSE(BetaBinomialGroups::of(std::vector<GroupCount>{{3, 20}, {5, 4}}).ok());
}

}  // namespace
}  // namespace strikebed::evidence
