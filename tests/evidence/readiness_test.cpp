// Readiness from signs, with the ripest cut out: small cases by hand, a closed form, and invented trays.
#include "evidence/readiness.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "base/random.hpp"
#include "evidence/normal_points.hpp"
#include "tests/calibration.hpp"

namespace strikebed::evidence {
namespace {

namespace support = testing_support;

const RipeningBelief kRipening{.time = {420, 280, 650}, .spread = {0.25, 0.15, 0.40}, .turning = 0.8, .faded = 2.5};

double time_at(const ReadinessFit& fit, const ScorePoint& scores) { return std::exp(fit.log_time(scores)); }
/// Median, 5 and 95 % points of the ripening time.
std::array<double, 3> range_of(const ReadinessFit& fit) {
  const WeightedDraws draws(fit.posterior(), normal_points(2, 10));
  const auto time = [&](const ScorePoint& x) { return time_at(fit, x); };
  return {draws.quantile(time, 0.5), draws.quantile(time, 0.05), draws.quantile(time, 0.95)};
}

TEST(Misreading, RowsSumToOneAndOnlyNeighboursAreTaken) {
  const Misreading misreading = read_as_neighbour(0.2);
  for (const auto& row : misreading) EXPECT_DOUBLE_EQ(row[0] + row[1] + row[2] + row[3], 1);
  EXPECT_DOUBLE_EQ(misreading[0][1], 0.2);
  EXPECT_DOUBLE_EQ(misreading[1][0], 0.1);
  EXPECT_DOUBLE_EQ(misreading[2][0], 0);
}

TEST(Readiness, NothingSeenIsTheBelief) {
  const ReadinessFit none(kRipening, {});
  const ReadinessFit::Tray too_early{{{100, 1}}, {{.clock = 80, .seen = {5, 0, 0, 0}, .standing = 5}}};
  const ReadinessFit early(kRipening, std::span(&too_early, 1));
  for (const ReadinessFit* fit : {&none, &early}) {
    EXPECT_NEAR(fit->posterior().mean(0), 0, 1e-6);
    EXPECT_NEAR(fit->posterior().sd(1), 1, 1e-4);
  }
}

// One look at one cohort, read without error: a binomial in each sign, by integration over the grid of both scores.
TEST(Readiness, OneLookIsTheMultinomialOfItsSigns) {
  const ReadinessFit::Tray tray{{{100, 1}}, {{.clock = 500, .seen = {10, 12, 28, 0}, .standing = 50}}};
  const ReadinessFit fit(kRipening, std::span(&tray, 1));
  double mass = 0;
  double mean = 0;
  constexpr double kStep = 0.05;
  for (double a = -5; a <= 5; a += kStep) {
    for (double b = -5; b <= 5; b += kStep) {
      const double m = fit.log_time({a, b});
      const double s = fit.spread({a, b});
      const double turned = normal_share_below((std::log(400 / 0.8) - m) / s);
      const double red = normal_share_below((std::log(400) - m) / s);
      const double faded = normal_share_below((std::log(400 / 2.5) - m) / s);
      const double p = std::exp(10 * std::log(1 - turned) + 12 * std::log(turned - red) + 28 * std::log(red - faded) -
                                (a * a + b * b) / 2);
      mass += p;
      mean += p * a;
    }
  }
  EXPECT_NEAR(fit.posterior().mean(0), mean / mass, 0.005);
  EXPECT_NEAR(fit.posterior().log_evidence(), std::log(mass * kStep * kStep / (2 * M_PI)), 0.01);
}

// Counted twice without cutting, all of the same seedlings, the second look tells all; a sample counts on its own.
TEST(Readiness, TheSameOnesTwiceTellNoMore) {
  const SignLook first{.clock = 450, .seen = {20, 20, 10, 0}, .standing = 50};
  const SignLook second{.clock = 520, .seen = {10, 15, 25, 0}, .standing = 50};
  const auto sd_of = [](std::vector<SignLook> looks) {
    const ReadinessFit::Tray tray{{{100, 1}}, std::move(looks)};
    return ReadinessFit(kRipening, std::span(&tray, 1)).posterior().sd(0);
  };
  EXPECT_DOUBLE_EQ(sd_of({first, second}), sd_of({second}));
  SignLook sample = first;
  sample.standing = 500;
  SignLook later = second;
  later.standing = 500;
  EXPECT_LT(sd_of({sample, later}), 0.9 * sd_of({later}));
}

TEST(Readiness, CutOnesAreRememberedAndLostOnesTellLittle) {
  const auto fit_of = [](std::vector<SignLook> looks) {
    const ReadinessFit::Tray tray{{{100, 1}}, std::move(looks)};
    return range_of(ReadinessFit(kRipening, std::span(&tray, 1)));
  };
  const SignLook early{.clock = 450, .seen = {60, 30, 10, 0}, .standing = 100, .cut = 10};
  const SignLook late{.clock = 520, .seen = {40, 30, 20, 0}, .standing = 90};
  SignLook forgotten = early;
  forgotten.cut = 0;
  EXPECT_LT(fit_of({early, late})[0], fit_of({forgotten, late})[0]);
  SignLook thinned = late;
  thinned.standing = 45;
  thinned.seen = {20, 15, 10, 0};
  thinned.lost = 45;
  EXPECT_NEAR(fit_of({early, thinned})[0] / fit_of({early, late})[0], 1, 0.03);
}

TEST(Readiness, ContradictionsWidenAndNeverBreak) {
  const ReadinessFit::Tray tray{{{100, 1}},
                                {{.clock = 400, .seen = {0, 0, 80, 20}, .standing = 50, .cut = 90, .lost = 70},
                                 {.clock = 420, .seen = {60, 0, 0, 0}, .standing = 10},
                                 {.clock = 500, .standing = 30, .cut = 12},
                                 {.clock = 560, .standing = 18}}};
  const ReadinessFit fit(kRipening, std::span(&tray, 1));
  EXPECT_TRUE(std::isfinite(fit.posterior().mean(0)));
  EXPECT_GT(fit.posterior().sd(0), 0);
}

/// A tray of 200 seeds that are looked at every 70 degC d and of which all that look ready are cut; signs are misread
/// 15 times in 100. Emergence about a clock of 130.
constexpr double kMisread = 0.15;
ReadinessFit::Tray invented_tray(double log_time, double spread, std::uint64_t seed) {
  constexpr int kSeeds = 200;
  constexpr double kShareUp = 0.785;
  constexpr int kCohorts = 16;
  ReadinessFit::Tray tray;
  const auto emergence = [](double score) { return 130 * std::exp(0.28 * score); };
  for (int c = 0; c < kCohorts; ++c) tray.cohorts.push_back({emergence(normal_quantile((c + 0.5) / kCohorts)), 1});
  struct Seedling {
    double up, demand;
  };
  std::vector<Seedling> standing;
  for (std::uint64_t i = 0; i < kSeeds; ++i) {
    if (random_uniform(seed, 1, i) < kShareUp) {
      standing.push_back(
          {emergence(random_normal(seed, 2, i)), std::exp(log_time + spread * random_normal(seed, 3, i))});
    }
  }
  const Misreading misreading = read_as_neighbour(kMisread);
  for (int k = 0; k < 9; ++k) {
    SignLook look{.clock = 300.0 + 70 * k};
    std::vector<Seedling> stay;
    for (std::size_t i = 0; i < standing.size(); ++i) {
      const double age = look.clock - standing[i].up;
      if (age <= 0) {
        stay.push_back(standing[i]);
        continue;
      }
      const double ripe = age / standing[i].demand;
      const std::size_t sign = ripe < 0.8 ? 0 : ripe < 1 ? 1 : ripe < 2.5 ? 2 : 3;
      double u = random_uniform(seed, 4 + static_cast<std::uint64_t>(k),
                                static_cast<std::uint64_t>(std::llround(standing[i].demand * 1e6)));
      std::size_t read = 0;
      while (read + 1 < kSigns && u >= misreading[sign][read]) u -= misreading[sign][read++];
      ++look.seen[read];
      ++look.standing;
      if (read >= 2) {
        ++look.cut;
      } else {
        stay.push_back(standing[i]);
      }
    }
    standing = stay;
    tray.looks.push_back(look);
  }
  return tray;
}

/// Truths evenly over the belief.
void expect_unbiased_and_covered(int log2_trays, double cover_low, double cover_high) {
  RipeningBelief belief = kRipening;
  belief.misreading = read_as_neighbour(kMisread);
  const ReadinessFit prior(belief, {});
  std::vector<double> ranks;
  double off = 0;
  double forgetful = 0;
  const std::vector<ScorePoint> truths = normal_points(2, log2_trays, 5);
  for (std::size_t t = 0; t < truths.size(); ++t) {
    const double log_time = prior.log_time(truths[t]);
    const ReadinessFit::Tray tray = invented_tray(log_time, prior.spread(truths[t]), t);
    const ReadinessFit fit(belief, std::span(&tray, 1));
    const WeightedDraws draws(fit.posterior(), normal_points(2, 10));
    std::vector<double> times;
    for (const ScorePoint& x : draws.scores()) times.push_back(fit.log_time(x));
    ranks.push_back(support::rank_of(log_time, times, draws.weights()));
    off += std::log(range_of(fit)[0]) - log_time;
    EXPECT_GT(draws.effective_count(), 0.85 * 1024);
    // A plain probit takes each look's counts as if nothing had been cut before.
    std::vector<ReadinessFit::Tray> looks;
    for (SignLook look : tray.looks) {
      look.cut = 0;
      if (look.standing > 0) looks.push_back({tray.cohorts, {look}});
    }
    forgetful += std::log(range_of(ReadinessFit(belief, looks))[0]) - log_time;
  }
  const auto trays = static_cast<double>(truths.size());
  EXPECT_NEAR(off / trays, 0, 0.03);
  EXPECT_GT(forgetful / trays, 0.10);
  EXPECT_GE(support::coverage(ranks, 0.9), cover_low);
  EXPECT_LE(support::coverage(ranks, 0.9), cover_high);
  EXPECT_GT(support::uniformity_p(ranks), 0.01);
}

TEST(Readiness, TraysFromWhichTheRipestAreCut) { expect_unbiased_and_covered(5, 0.80, 1.0); }
TEST(LongReadiness, TraysFromWhichTheRipestAreCut) { expect_unbiased_and_covered(8, 0.86, 0.94); }

}  // namespace
}  // namespace strikebed::evidence
