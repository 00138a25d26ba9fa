// Shares and times learnt together: closed forms, dense grids, what stays open, and calibration over invented batches.
#include "evidence/cure_model.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>
#include <span>

#include "base/random.hpp"
#include "evidence/binomial.hpp"
#include "evidence/looks.hpp"
#include "evidence/normal_points.hpp"
#include "evidence/rate_curve.hpp"
#include "evidence/share_terms.hpp"
#include "tests/calibration.hpp"

namespace strikebed::evidence {
namespace {

namespace support = testing_support;

const CureBelief kEmergence{
    .share = {Ranged{0.518, 0.945, 0.785}, 0.3}, .time = {130, 90, 200}, .spread = {0.28, 0.18, 0.45}};
const CureBelief kRooting{
    .share = {Ranged{0.374, 0.892, 0.67}, 0.5}, .time = {350, 250, 600}, .spread = {0.30, 0.20, 0.45}};
CureBelief with_failures_lost(CureBelief belief) {
  belief.failure_half_life = Quantity{28, 14, 56};
  return belief;
}

double share_at(const CureFit& fit, const ScorePoint& scores) { return share_of(fit.point(scores).share_logit); }
double time_at(const CureFit& fit, const ScorePoint& scores) { return std::exp(fit.point(scores).log_time); }

TEST(ShareTerms, DerivativesAreThoseOfTheValue) {
  BatchSeen seen{.passed = {{0, 300, 4}, {300, 350, 3}}, .samples = {{320, 2, 5, 0.7}}, .waiting = 7, .waited_by = 360};
  seen.lost = {{0, 10, 1}, {10, 25, 2}};
  const PassingTime time{std::log(350), 0.3, 0};
  for (const bool lost_by_and_by : {false, true}) {
    seen.age = 25;
    const ShareTerms terms = lost_by_and_by ? ShareTerms(seen, time, 30) : ShareTerms(seen, time);
    for (const double logit : {-3.0, -0.2, 0.9, 4.0}) {
      constexpr double kStep = 1e-4;
      const double up = terms(logit + kStep).value;
      const double down = terms(logit - kStep).value;
      const LogLikelihoodAt at = terms(logit);
      EXPECT_NEAR(at.slope, (up - down) / (2 * kStep), 1e-5);
      EXPECT_NEAR(at.bend, (up + down - 2 * at.value) / (kStep * kStep), 1e-4);
    }
  }
}

// Each of 14 is lost, of those that never root and half of which are lost by 20 days, or waits: the multinomial's log.
TEST(ShareTerms, LostByAndByIsTheBinomial) {
  const BatchSeen seen{.lost = {{0, 25, 5}, {25, 40, 3}}, .waiting = 6, .waited_by = 330, .age = 40};
  const PassingTime time{std::log(350), 0.3, 0};
  const double after = normal_share_below(-time.score(330));
  const auto lost_by = [](double age) { return 0.5 * std::erfc(-std::log(age / 20) / (0.65 * std::sqrt(2.0))); };
  const double left = 1 - lost_by(40);
  const auto closed = [&](double logit) {
    const double p = share_of(logit);
    return 5 * std::log((1 - p) * lost_by(25)) + 3 * std::log((1 - p) * (lost_by(40) - lost_by(25))) +
           6 * std::log((1 - p) * left + p * after);
  };
  const ShareTerms terms(seen, time, 20);
  for (const double logit : {-4.0, -1.0, 0.0, 1.0, 3.0}) {
    EXPECT_NEAR(terms(logit).value, closed(logit), 1e-9) << logit;
    const double p = share_of(logit);
    EXPECT_NEAR(terms.chance_of_waiting(logit), p * after / ((1 - p) * left + p * after), 1e-9);
  }
}

TEST(CureFit, WithoutBatchesItIsTheBelief) {
  const CureFit fit(kRooting, {});
  const WeightedDraws draws(fit.posterior(), normal_points(3, 12));
  const auto share = [&](const ScorePoint& x) { return share_at(fit, x); };
  const auto time = [&](const ScorePoint& x) { return time_at(fit, x); };
  EXPECT_NEAR(draws.quantile(share, 0.05), 0.374, 0.005);
  EXPECT_NEAR(draws.quantile(share, 0.95), 0.892, 0.005);
  EXPECT_NEAR(draws.quantile(time, 0.5), 350 * 600.0 / 600, 3);
}

// All came early, and long after none does: the share is the Beta's update.
TEST(CureFit, OnceAllIsOverTheShareIsABetaUpdate) {
  CureBelief belief = kRooting;
  belief.share = {Tested{7, 10}, 0.0};
  const std::vector<Look> looks{{500, 14, 20}, {5000, 15, 20}};
  const CureFit fit(belief, {batch_seen(20, looks)});
  const Beta updated{1 + 7 + 15, 1 + 3 + 5};
  EXPECT_NEAR(fit.posterior().mean_of([&](const ScorePoint& x) { return share_at(fit, x); }), updated.mean(), 1e-3);
  const WeightedDraws draws(fit.posterior(), normal_points(3, 12));
  for (const double p : {0.05, 0.5, 0.95}) {
    EXPECT_NEAR(draws.quantile([&](const ScorePoint& x) { return share_at(fit, x); }, p), updated.quantile(p), 0.005);
  }
}

// Covers  several sowings that share the lot's share and the timing, each with an effect of its own: mean, sd and
//         evidence by nested quadrature against a dense grid over scores and effects.
TEST(CureFit, TwoSowingsAsOnADenseGrid) {
  const std::vector<Look> first{{100, 3, 40}, {130, 14, 40}, {160, 25, 40}};
  const std::vector<Look> second{{110, 9, 30}, {140, 15, 30}};
  const std::vector<BatchSeen> batches{batch_seen(40, first), batch_seen(30, second)};
  const CureFit fit(kEmergence, batches);
  double mass = 0;
  std::array<double, 3> mean{};
  std::array<double, 3> square{};
  constexpr double kStep = 0.2;
  for (double a = -4; a <= 4; a += kStep) {
    for (double b = -4; b <= 4; b += kStep) {
      for (double c = -4; c <= 4; c += kStep) {
        const ScorePoint x{a, b, c};
        const CurePoint at = fit.point(x);
        double p = std::exp(-(a * a + b * b + c * c) / 2) * std::pow(kStep, 3) / std::pow(2 * M_PI, 1.5);
        for (const BatchSeen& batch : batches) {
          const ShareTerms terms(batch, PassingTime{at.log_time, at.spread, 0});
          double over = 0;
          for (double z = -4.5; z <= 4.5; z += 0.25) {
            over += std::exp(terms(at.share_logit + 0.3 * z).value - z * z / 2) * 0.25 / std::sqrt(2 * M_PI);
          }
          p *= over;
        }
        mass += p;
        for (std::size_t i = 0; i < 3; ++i) {
          mean[i] += p * x[i];
          square[i] += p * x[i] * x[i];
        }
      }
    }
  }
  EXPECT_NEAR(fit.posterior().log_evidence(), std::log(mass), 0.01);
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(fit.posterior().mean(i), mean[i] / mass, 0.01) << i;
    EXPECT_NEAR(fit.posterior().sd(i), std::sqrt(square[i] / mass - std::pow(mean[i] / mass, 2)), 0.02) << i;
  }
}

// Few rooted early: slow, or few? Both stay open, along a ridge: the share is hardly better known than before, and goes
// with the time; two months later it is known.
TEST(CureFit, FewEarlyMayBeSlowOrFew) {
  const std::vector<Look> early{{200, 1, 40}, {260, 4, 40}};
  const CureFit open(kRooting, {batch_seen(40, early)});
  const auto range = [](const CureFit& fit) {
    const WeightedDraws draws(fit.posterior(), normal_points(3, 11));
    const auto share = [&](const ScorePoint& x) { return share_at(fit, x); };
    return std::pair(draws.quantile(share, 0.05), draws.quantile(share, 0.95));
  };
  const auto [low, high] = range(open);
  EXPECT_LT(low, 0.37);
  EXPECT_GT(high, 0.80);
  const Posterior& posterior = open.posterior();
  EXPECT_GT(posterior.covariance(0, 1) / (posterior.sd(0) * posterior.sd(1)), 0.3);
  EXPECT_GT(posterior.sd(0), 0.75);

  std::vector<Look> late = early;
  late.insert(late.end(), {{400, 9, 40}, {900, 11, 40}});
  const auto [few, not_many] = range(CureFit(kRooting, {batch_seen(40, late)}));
  EXPECT_LT(not_many, 0.65);
  late[2].through = 24;
  late[3].through = 33;
  EXPECT_GT(range(CureFit(kRooting, {batch_seen(40, late)})).first, 0.55);
}

TEST(CureFit, AContradictionWidens) {
  const std::vector<Look> clean{{100, 8, 60}, {140, 40, 60}, {250, 46, 60}};
  const std::vector<Look> falling{{100, 8, 60}, {140, 40, 60}, {180, 20, 60}, {250, 26, 60}};
  const CureFit sound(kEmergence, {batch_seen(60, clean)});
  const CureFit torn(kEmergence, {batch_seen(60, falling)});
  EXPECT_GT(torn.posterior().sd(CureFit::kShare), sound.posterior().sd(CureFit::kShare));
}

TEST(CureFit, ADelayIsLearntWithTheTime) {
  CureBelief belief = kEmergence;
  belief.delay = Quantity{60, 30, 100};
  const std::vector<Look> looks{{130, 2, 50}, {160, 7, 50}, {190, 19, 50}, {220, 28, 50}, {260, 35, 50}, {300, 37, 50}};
  const CureFit fit(belief, {batch_seen(50, looks)});
  EXPECT_EQ(fit.posterior().dimensions(), 4);
  EXPECT_LT(fit.posterior().covariance(CureFit::kDelay, fit.time_score()), -0.1);  // only their sum is seen
  const WeightedDraws draws(fit.posterior(), normal_points(4, 11));
  EXPECT_GT(draws.effective_count(), 0.7 * 2048);
}

TEST(CureFit, DrawsKeepTheirWeight) {
  for (const auto& looks : std::vector<std::vector<Look>>{{{200, 1, 40}, {260, 4, 40}},
                                                          {{260, 0, 40}},
                                                          {{260, 12, 40}, {300, 20, 40}, {400, 30, 40}},
                                                          {{400, 2, 40}}}) {
    const CureFit fit(kRooting, {batch_seen(40, looks)});
    const WeightedDraws draws(fit.posterior(), normal_points(3, 11));
    EXPECT_GT(draws.effective_count(), 0.85 * 2048) << looks.size() << " looks, " << looks.back().through;
  }
}

/// 2^log2_points draws of a fit and all its batches.
struct Drawn {
  std::vector<CureDraw> draws;
  std::vector<double> weights;  ///< 1 on the mean

  Drawn(const CureFit& fit, std::size_t others, std::size_t batches, int log2_points = 11) {
    const std::vector<ScorePoint> points = normal_points(kMostScores, log2_points);
    std::vector<std::vector<float>> more;
    for (std::size_t i = 0; i < others + batches; ++i) {
      more.push_back(shuffled_normal_scores(1, log2_points, 1, 77 + i));
    }
    for (std::size_t k = 0; k < points.size(); ++k) {
      std::vector<double> normals;
      for (const auto& scores : more) normals.push_back(static_cast<double>(scores[k]));
      draws.push_back(fit.draw(points[k], std::span(normals).first(others), std::span(normals).subspan(others)));
      weights.push_back(std::exp(draws.back().log_weight));
    }
  }
  [[nodiscard]] double mean_weight() const {
    return std::accumulate(weights.begin(), weights.end(), 0.0) / static_cast<double>(weights.size());
  }
  template <class F>
  [[nodiscard]] double mean(const F& value) const {
    double sum = 0;
    for (std::size_t k = 0; k < draws.size(); ++k) sum += weights[k] * value(draws[k]);
    return sum / mean_weight() / static_cast<double>(draws.size());
  }
  [[nodiscard]] double effective_part() const {
    double squares = 0;
    for (const double weight : weights) squares += weight * weight;
    return mean_weight() * mean_weight() * static_cast<double>(weights.size()) / squares;
  }
};

// Scores and effects drawn at once: the weighted means are those of quadrature over the scores, then over each effect.
TEST(CureFit, DrawsOfBatchesAreThoseOfNestedQuadrature) {
  const std::vector<Look> good{{300, 10, 30}, {600, 27, 30}};
  const std::vector<Look> poor{{300, 3, 30}, {600, 6, 30}};
  const std::vector<Look> none{{250, 0, 5}};
  std::vector<BatchSeen> batches{batch_seen(30, good), batch_seen(30, poor), batch_seen(5, none), BatchSeen{}};
  batches[1].offset = -0.2;
  const CureFit fit(kRooting, batches);
  const Drawn drawn(fit, 0, batches.size());
  EXPECT_NEAR(drawn.mean_weight(), 1, 0.02);
  EXPECT_GT(drawn.effective_part(), 0.8);
  for (std::size_t b = 0; b < batches.size(); ++b) {
    const auto effect_at = [&](const ScorePoint& x) {
      const CurePoint at = fit.point(x);
      const ShareTerms terms(batches[b], PassingTime{at.log_time, at.spread, 0});
      return batch_effect(terms, at.share_logit + batches[b].offset, 0.5);
    };
    const double mean = fit.posterior().mean_of([&](const ScorePoint& x) { return effect_at(x).mean; });
    const double square = fit.posterior().mean_of([&](const ScorePoint& x) {
      const BatchEffect effect = effect_at(x);
      return effect.mean * effect.mean + effect.sd * effect.sd;
    });
    const auto effect = [b](const CureDraw& draw) { return draw.effects[b]; };
    EXPECT_NEAR(drawn.mean(effect), mean, 0.015) << b;
    EXPECT_NEAR(drawn.mean([&](const CureDraw& draw) { return effect(draw) * effect(draw); }), square, 0.02) << b;
  }
  for (std::size_t i = 0; i < 3; ++i) {
    EXPECT_NEAR(drawn.mean([i](const CureDraw& draw) { return draw.scores[i]; }), fit.posterior().mean(i), 0.02) << i;
  }
  const CureDraw& any = drawn.draws.front();
  EXPECT_NEAR(any.logits[1], fit.point(any.scores).share_logit - 0.2 + any.effects[1], 1e-12);
  EXPECT_EQ(any.chance_of_waiting.size(), batches.size());
}

// Nothing seen: the draws are the normal numbers themselves, and all count alike.
TEST(CureFit, WhereNothingWasSeenNothingMoves) {
  const CureFit fit(with_failures_lost(kRooting), {batch_seen(30, {}), batch_seen(12, {})});
  const ScorePoint normal{0.3, -1.2, 0.7, 2.1};
  const std::vector<double> effects{-0.4, 1.5};
  const CureDraw draw = fit.draw(normal, {}, effects);
  EXPECT_EQ(draw.scores, normal);
  EXPECT_NEAR(draw.effects[1], 0.5 * 1.5, 1e-12);
  EXPECT_NEAR(draw.log_weight, 0, 1e-9);
}

// A second lot with the time in common: where the time is known, each lot is by itself.
TEST(CureFit, OtherSharesAreLearntBesideTheFirst) {
  CureBelief belief{.share = {Tested{7, 10}, 0.0}, .time = {130, 130, 130}, .spread = {0.28, 0.28, 0.28}};
  belief.others.push_back({Tested{3, 10}, 0.0});
  const std::vector<Look> much{{100, 9, 40}, {400, 35, 40}};
  const std::vector<Look> little{{100, 1, 40}, {400, 6, 40}};
  std::vector<BatchSeen> batches{batch_seen(40, much), batch_seen(40, little)};
  batches[1].share = 1;
  const CureFit fit(belief, batches);
  const double first = fit.posterior().mean_of([&](const ScorePoint& x) { return share_of(fit.point(x).share_logit); });
  EXPECT_NEAR(first, (1 + 7 + 35) / (2.0 + 10 + 40), 0.003);
  const Drawn drawn(fit, 1, 2);
  EXPECT_NEAR(drawn.mean([](const CureDraw& draw) { return share_of(draw.logits[1]); }), (1 + 3 + 6) / (2.0 + 10 + 40),
              0.005);
  EXPECT_NEAR(drawn.mean_weight(), 1, 0.01);
}

// Forty-eight batches: what each proposal is off by multiplies, and most draws still count.
TEST(CureFit, ManyBatchesKeepTheirDraws) {
  std::vector<BatchSeen> batches;
  for (std::uint64_t b = 0; b < 48; ++b) {
    const auto rooted = static_cast<int>(8 * random_uniform(3, b, 0));
    const std::vector<Look> looks{{280, rooted / 3, 8}, {420, rooted, 8}};
    batches.push_back(batch_seen(8, looks));
  }
  const CureFit fit(kRooting, batches);
  const Drawn drawn(fit, 0, batches.size());
  EXPECT_GT(drawn.effective_part(), 0.4);
  EXPECT_NEAR(drawn.mean_weight(), 1, 0.05);
}

/// Invented batches from the belief itself: looks at all every so often until `last`, the failures lost by and by.
struct Invented {
  ScorePoint scores{};
  std::vector<BatchSeen> batches;
};
constexpr double kAge_days = 35;
Invented invented(const CureBelief& belief, const ScorePoint& truth, int number, double last, std::uint64_t seed) {
  const CureFit prior(belief, {});
  Invented made{.scores = truth, .batches = {}};
  const CurePoint at = prior.point(made.scores);
  for (std::uint64_t batch = 0; batch < 3; ++batch) {
    const double share = share_of(at.share_logit + *belief.share.batch_spread * random_normal(seed, 2, batch));
    std::vector<Look> looks;
    std::vector<BatchSeen::Lost> lost;
    for (int k = 1; k <= 6; ++k) {
      looks.push_back({last * k / 6, 0, number});
      lost.push_back({kAge_days * (k - 1) / 6, kAge_days * k / 6, 0});
    }
    for (int i = 0; i < number; ++i) {
      const std::uint64_t one = batch * 1000 + static_cast<std::uint64_t>(i);
      if (random_uniform(seed, 4, one) < share) {
        const double time = std::exp(at.log_time + at.spread * random_normal(seed, 5, one));
        for (Look& look : looks) look.through += time <= look.at ? 1 : 0;
      } else {
        const double age = at.failure_half_life * std::exp(0.65 * random_normal(seed, 6, one));
        for (BatchSeen::Lost& found : lost) found.count += age > found.after && age <= found.by ? 1 : 0;
      }
    }
    made.batches.push_back(batch_seen(number, looks, lost));
    made.batches.back().age = kAge_days;
  }
  return made;
}

/// Ranks of the scores in 2^log2_cases invented cases, whose truths are spread evenly over the belief.
void expect_calibrated(const CureBelief& belief, double last, int log2_cases) {
  const int cases = 1 << log2_cases;
  const int dimensions = CureFit(belief, {}).posterior().dimensions();
  const std::vector<ScorePoint> truths = normal_points(dimensions, log2_cases, 7);
  std::vector<std::vector<double>> ranks(static_cast<std::size_t>(dimensions));
  double least = 1;
  const std::vector<ScorePoint> points = normal_points(dimensions, 9);
  for (int c = 0; c < cases; ++c) {
    const Invented made =
        invented(belief, truths[static_cast<std::size_t>(c)], 30, last, static_cast<std::uint64_t>(c));
    const CureFit fit(belief, made.batches);
    const WeightedDraws draws(fit.posterior(), points);
    least = std::min(least, draws.effective_count() / static_cast<double>(points.size()));
    for (std::size_t i = 0; i < ranks.size(); ++i) {
      std::vector<double> values;
      for (const ScorePoint& x : draws.scores()) values.push_back(x[i]);
      ranks[i].push_back(support::rank_of(made.scores[i], values, draws.weights()));
    }
  }
  EXPECT_GT(least, 0.5);
  const double three_sds = 3 * std::sqrt(0.09 / cases);
  for (std::size_t i = 0; i < ranks.size(); ++i) {
    EXPECT_GT(support::uniformity_p(ranks[i]), 0.01) << "score " << i;
    EXPECT_NEAR(support::coverage(ranks[i], 0.9), 0.9, three_sds) << "score " << i;
    EXPECT_NEAR(support::coverage(ranks[i], 0.5), 0.5, three_sds * 5 / 3) << "score " << i;
  }
}

TEST(CureFit, CalibratedOverInventedRootings) { expect_calibrated(with_failures_lost(kRooting), 380, 8); }
TEST(LongCureFit, CalibratedOverInventedRootings) {
  for (const double last : {250, 380, 800}) expect_calibrated(with_failures_lost(kRooting), last, 11);
}
TEST(LongCureFit, CalibratedOverInventedEmergence) { expect_calibrated(kEmergence, 150, 11); }

}  // namespace
}  // namespace strikebed::evidence
