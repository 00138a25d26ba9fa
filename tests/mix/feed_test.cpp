// Feeds: mixing then analysing gives the target back, blends are never negative and never worse than each alone, and
// the messages. Published numbers stand in tests/reference/feed.json.
#include "mix/feed.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "base/random.hpp"

namespace strikebed::mix {
namespace {

Fertiliser fertiliser(const char* label) { return {parse_label(label, "").value(), std::nullopt}; }
std::vector<FeedRemarkKind> kinds(const FeedAnswer& answer) {
  std::vector<FeedRemarkKind> found;
  for (const FeedRemark& remark : answer.remarks) found.push_back(remark.kind);
  return found;
}
Target target(const char* text) { return parse_target(text, "").value(); }

// Covers: grams from ppm and ppm from grams are inverses, by litre and through an injector.
TEST(Feed, WeighingThenAnalysingGivesTheTargetBack) {
  for (const char* label : {"20-10-20", "15-5-15", "12.5-6-6"}) {
    for (const char* ratio : {"1 in 1", "1 in 200", "1 plus 100"}) {
      FeedRequest weigh;
      weigh.fertilisers = {fertiliser(label)};
      weigh.target = target("125 N");
      weigh.volume_l = 7.5;
      weigh.injector = parse_ratio(ratio, "").value();
      weigh.scale_g = 1e-6;
      const auto weighed = make_feed(weigh);
      ASSERT_TRUE(weighed.ok());
      FeedRequest analyse = weigh;
      analyse.target.reset();
      analyse.grams = {weighed->weigh[0].grams};
      const auto analysed = make_feed(analyse);
      ASSERT_TRUE(analysed.ok());
      EXPECT_NEAR(analysed->nutrients[0].obtained.value, 125, 1e-3);
    }
  }
}

// Covers: what is really obtained after rounding to the scale, by hand: 4.5 g exactly, 4 g on a 1 g... 5 g on a 5 g
// scale.
TEST(Feed, SaysWhatIsObtainedAfterRounding) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("20-10-20")};
  asked.target = target("100 N");
  asked.volume_l = 9;
  asked.scale_g = 5;
  const auto answer = make_feed(asked);
  ASSERT_TRUE(answer.ok());
  EXPECT_NEAR(answer->weigh[0].grams_exact, 4.5, 1e-9);
  EXPECT_DOUBLE_EQ(answer->weigh[0].grams, 5);
  EXPECT_NEAR(answer->nutrients[0].obtained.value, 111.1111, 1e-4);
  EXPECT_NEAR(*answer->nutrients[0].misfit, 0.111111, 1e-6);
  EXPECT_GT(answer->nutrients[0].obtained.u, 5 / std::sqrt(12.0) / 9 * 200);  // the scale alone
  EXPECT_EQ(kinds(*answer), std::vector{FeedRemarkKind::coarse_scale});
  EXPECT_EQ(answer->remarks[0].index, 0U);
  asked.misfit_allowed = 0.12;
  EXPECT_TRUE(make_feed(asked)->remarks.empty());
}

// u^2 by hand, of 10 g of 20-10-20 in 9 L: the weight, the label's last digit, the can; each as limits over sqrt 3.
TEST(Feed, IsAsSureAsLabelWeightAndCan) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("20-10-20")};
  asked.grams = {10};
  asked.volume_l = 9;
  const auto relative_n = [&] { return make_feed(asked)->nutrients[0].obtained.relative() * std::sqrt(3.0); };
  EXPECT_NEAR(relative_n(), std::hypot(0.5 / 20, 0.05 / 10, 0.02), 1e-12);
  asked.grams_u = {2 / std::sqrt(3.0)};
  asked.volume_error = 2.0 / 9 / std::sqrt(3.0);
  EXPECT_NEAR(relative_n(), std::hypot(0.5 / 20, 0.2, 2.0 / 9), 1e-12);
  asked.fertilisers = {fertiliser("20.0-10-20")};  // printed to a tenth
  EXPECT_NEAR(relative_n(), std::hypot(0.05 / 20, 0.2, 2.0 / 9), 1e-12);
  // The salt: what makes N unsure, and the last digit of 1.48.
  asked.fertilisers[0].conductivity = parse_conductivity("1.48 at 200", "").value();
  const auto answer = make_feed(asked);
  EXPECT_NEAR(answer->feed_ec_u / *answer->feed_ec * std::sqrt(3.0),
              std::hypot(std::hypot(0.05 / 20, 0.2, 2.0 / 9), 0.005 / 1.48), 1e-12);
}

// 9 L for 100 N and 83 K from 20-10-20 (100 K2O in it already): 0-0-50 would be a trace.
TEST(Feed, LeavesOutOfABlendWhatCannotBeWeighed) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("20-10-20"), fertiliser("0-0-50")};
  asked.target = target("100 N, 84 K");
  asked.volume_l = 9;
  const auto answer = make_feed(asked);
  ASSERT_TRUE(answer.ok()) << answer.error().message();
  EXPECT_GT(answer->weigh[1].grams_exact, 0);
  EXPECT_DOUBLE_EQ(answer->weigh[1].grams, 0);
  FeedRequest alone = asked;
  alone.fertilisers.pop_back();
  EXPECT_DOUBLE_EQ(answer->nutrients[2].obtained.u, make_feed(alone)->nutrients[2].obtained.u);
  EXPECT_EQ(kinds(*answer), std::vector{FeedRemarkKind::left_out});
  EXPECT_EQ(answer->remarks[0].index, 1U);
  // On a kitchen scale of 1 g the missing potash is too much to leave out.
  asked.target = target("100 N, 120 K");
  asked.volume_l = 1;
  asked.scale_g = 0.25;
  const auto refused = make_feed(asked);
  ASSERT_FALSE(refused.ok());
  EXPECT_EQ(refused.error().field, "scale");
}

double misfit_of(std::span<const Nutrients> percents, const Target& wanted, std::span<const double> grams) {
  double sum = 0;
  for (std::size_t i = 0; i < 3; ++i) {
    double ppm = 0;
    for (std::size_t f = 0; f < grams.size(); ++f) ppm += ppm_from_grams(grams[f], percents[f][i]);
    sum += std::pow(ppm / *wanted.ppm[i] - 1, 2);
  }
  return sum;
}

// Covers: least squares without negative amounts, on 300 random blends (fixed start): no small step in any direction
// that stays at or above 0 is better (the misfit is convex, so that is the least there is). Tolerance: rounding.
TEST(Feed, BlendIsTheBestWithoutNegativeAmounts) {
  const Target wanted = target("150 N, 60 P, 150 K");
  for (std::uint64_t trial = 0; trial < 300; ++trial) {
    const std::size_t several = 1 + trial % 5;
    std::vector<Nutrients> percents;
    for (std::uint64_t f = 0; f < several; ++f) {
      Nutrients one{};
      for (std::uint64_t i = 0; i < 3; ++i) {
        const double u = random_uniform(7, trial, f, i);
        one[static_cast<std::size_t>(i)] = u < 0.3 ? 0 : 30 * u;
      }
      percents.push_back(one);
    }
    const std::vector<double> grams = blend(percents, wanted);
    const double least = misfit_of(percents, wanted, grams);
    for (std::size_t f = 0; f < several; ++f) {
      EXPECT_GE(grams[f], 0);
      for (const double step : {-1e-4, 1e-4}) {
        std::vector<double> other = grams;
        other[f] = std::max(other[f] + step, 0.0);
        EXPECT_GE(misfit_of(percents, wanted, other), least - 1e-12) << trial;
      }
    }
  }
}

// Covers: weights of a blend give back what it was weighed for, and the volume it makes is the volume it was weighed
// for.
TEST(Feed, ABlendIsAnalysedAndReachesAsFarAsItWasWeighedFor) {
  for (const auto& injector : {std::optional<Ratio>(), std::optional<Ratio>(Ratio{true, 100})}) {
    FeedRequest asked;
    asked.fertilisers = {fertiliser("20-10-20"), fertiliser("0-0-50")};
    asked.target = target("100 N, 120 K");
    asked.volume_l = 9;
    asked.injector = injector;
    asked.scale_g = 0.01;
    const auto weighed = make_feed(asked);
    ASSERT_TRUE(weighed.ok()) << weighed.error().message();
    FeedRequest back = asked;
    back.target.reset();
    back.grams = {weighed->weigh[0].grams, weighed->weigh[1].grams};
    const auto analysed = make_feed(back);
    ASSERT_TRUE(analysed.ok());
    for (std::size_t i = 0; i < 3; ++i)
      EXPECT_NEAR(analysed->nutrients[i].obtained.value, weighed->nutrients[i].obtained.value, 1e-9);
    EXPECT_FALSE(analysed->nutrients[0].wanted);
    Target one;
    one.ppm[2] = analysed->nutrients[2].obtained.value;
    back.target = one;
    back.volume_l = 1;  // not read
    const auto reach = make_feed(back);
    ASSERT_TRUE(reach.ok());
    EXPECT_NEAR(reach->asked.volume_l, 9, 1e-9);
    EXPECT_NEAR(reach->feed_l, injector ? 9 * 101 : 9, 1e-6);
    EXPECT_NEAR(*reach->nutrients[2].misfit, 0, 1e-9);
  }
}

// Covers: the same fertiliser twice is no trouble.
TEST(Feed, TheSameFertiliserTwiceIsOne) {
  const std::array<Nutrients, 2> twice{{{20, 4, 16}, {20, 4, 16}}};
  const std::vector<double> grams = blend(twice, target("100 N"));
  EXPECT_NEAR(grams[0] + grams[1], 0.5, 1e-9);
}

/// Three phases of an invented season; the shipped ones are read in tests/nursery.
FeedSchedule schedule() {
  const auto phase = [](const char* name, Nutrients ppm, double n_low, double n_high, double ec_low, double ec_high) {
    return Phase{name, "when it is seen", ppm, n_low, n_high, ec_low, ec_high, 1, "a test", Trust::C};
  };
  return {{phase("rooting", {0, 0, 0}, 0, 25, 0, 0.5), phase("establishment", {50, 100, 100}, 25, 75, 0.6, 1.0),
           phase("growth", {150, 60, 150}, 100, 200, 1.2, 1.8)},
          2.5,
          "a test",
          Trust::C};
}

TEST(Feed, NothingIsFedInAPhaseWithoutFeed) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("20-10-20")};
  asked.phase = find_phase(schedule(), "rooting", "").value();
  const auto answer = make_feed(asked);
  ASSERT_TRUE(answer.ok());
  EXPECT_DOUBLE_EQ(answer->weigh[0].grams, 0);
  EXPECT_EQ(kinds(*answer), std::vector{FeedRemarkKind::nothing_fed});
}

TEST(Feed, RemarksOnSalt) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("15-5-15")};
  asked.fertilisers[0].conductivity = parse_conductivity("1.48 at 200", "").value();
  asked.phase = find_phase(schedule(), "establishment", "").value();
  asked.target = target("150 N");
  const auto answer = make_feed(asked);
  ASSERT_TRUE(answer.ok());
  EXPECT_EQ(kinds(*answer), (std::vector{FeedRemarkKind::strong, FeedRemarkKind::salty}));
  EXPECT_EQ(answer->remarks[0].limit, 75);
  EXPECT_EQ(answer->remarks[1].limit, 1);
}

// Covers: without a phase the saltiest of the season is the limit: 1.8 dS/m here, 1.48 x 300 / 200 = 2.22.
TEST(Feed, WithoutAPhaseTheSaltiestIsTheLimit) {
  FeedRequest asked;
  asked.fertilisers = {fertiliser("15-5-15")};
  asked.fertilisers[0].conductivity = parse_conductivity("1.48 at 200", "").value();
  asked.target = target("300 N");
  asked.schedule = schedule();
  EXPECT_EQ(kinds(*make_feed(asked)), (std::vector{FeedRemarkKind::strong, FeedRemarkKind::salty}));
  EXPECT_EQ(make_feed(asked)->remarks[0].limit, 200);
  EXPECT_EQ(make_feed(asked)->remarks[1].limit, 1.8);
  asked.schedule.phases.back().ec_high = 2.5;
  EXPECT_EQ(kinds(*make_feed(asked)), std::vector{FeedRemarkKind::strong});
  asked.schedule.phases.back().n_high = 300;
  EXPECT_TRUE(make_feed(asked)->remarks.empty());
  asked.fertilisers[0].conductivity.reset();
  asked.target = target("400 N");
  asked.scale_g = 0.01;
  EXPECT_EQ(kinds(*make_feed(asked)), std::vector{FeedRemarkKind::strong});
}

template <class T>
std::string message(const Result<T>& result) {
  return result ? "" : result.error().message();
}

TEST(Feed, SaysWhatIsWrong) {
  EXPECT_EQ(message(parse_label("50-30-30", "fertilisers")),
            "fertilisers: 50-30-30 adds up to 110 %; allowed: at most 100 %");
  EXPECT_EQ(message(parse_label("20-10", "fertilisers")),
            "fertilisers: \"20-10\" is no label; allowed: N-P2O5-K2O in per cent, such as 20-10-20");
  EXPECT_EQ(message(parse_label("0-0-0", "fertilisers")),
            "fertilisers: 0-0-0 holds no N, P or K; allowed: at least one above 0");
  EXPECT_EQ(
      message(parse_target("100", "target")),
      "target: \"100\" is no strength; allowed: ppm of N, P or K between commas, such as \"100 N\" or \"150 N, 60 P, "
      "150 K\"");
  EXPECT_EQ(message(find_phase(schedule(), "grwoth", "phase")),
            "phase: there is no phase \"grwoth\" (did you mean \"growth\"?); allowed: rooting, establishment, "
            "growth");
  FeedRequest asked;
  asked.fertilisers = {fertiliser("20-10-20"), fertiliser("10-50-10")};
  // By hand: 20-10-20 alone, g = (2 + 4.364 + 0.830) / (2^2 + 4.364^2 + 0.830^2) = 0.303 g/L.
  asked.target = target("100 N, 10 P, 200 K");
  EXPECT_EQ(
      message(make_feed(asked)),
      "target: these fertilisers cannot reach it; the nearest is 60.6 ppm N for 100, 13.2 ppm P for 10, 50.3 ppm K for "
      "200; allowed: a target within 10 % of what they can give, other fertilisers, or a larger misfit");
  asked.grams = {10};
  asked.target.reset();
  EXPECT_EQ(message(make_feed(asked)),
            "grams: 1 given for 2 fertilisers; allowed: one weight for each fertiliser, in the same order");
  asked.grams = {10, 5};
  asked.target = target("100 N, 50 K");
  EXPECT_EQ(message(make_feed(asked)),
            "target: one weight can be right in one nutrient only; allowed: one nutrient, such as \"100 N\"");
  asked.grams.clear();
  asked.fertilisers = {fertiliser("20-0-0")};
  asked.target = target("100 N, 50 K");
  EXPECT_EQ(message(make_feed(asked)),
            "target: 50 ppm K is wanted, but no fertiliser given holds any; allowed: a fertiliser with K, or a target "
            "without "
            "it");
  asked.target = target("100 N");
  asked.volume_l = 0.01;
  EXPECT_EQ(
      message(make_feed(asked)),
      "scale: 0.005 g of 20-0-0 is less than half a step of the scale (0.1 g); allowed: a finer scale, or a larger "
      "volume: make a stock and dilute it");
}

}  // namespace
}  // namespace strikebed::mix
