// What a season teaches of the values of a profile, against closed forms.
#include "season/learnt_values.hpp"

#include <gtest/gtest.h>

#include <boost/math/distributions/beta.hpp>
#include <cmath>

#include "evidence/beta.hpp"
#include "example_goals.hpp"

namespace strikebed::season {
namespace {

/// Doubtful of everything, without differences between batches; one sowing of 200.
Goal doubtful_goal() {
  Goal goal = weekend_goal({60});
  goal.species = doubtful_pine();
  goal.rates = shared_rates({ranged(0.5, 0.75, 0.92, 0), ranged(0.7, 0.9, 0.97, 0), ranged(0.7, 0.88, 0.95, 0),
                             ranged(0.6, 0.85, 0.95, 0), known(0.9)});
  goal.wants[0].take = ranged(0.3, 0.65, 0.9, 0);
  goal.wants[0].grade = ranged(0.7, 0.9, 0.97, 0);
  goal.sown = {{make_date(2027, 3, 20), 200, {}, goal.rates[Rung::germination]}};
  goal.today = make_date(2027, 9, 1);
  return goal;
}
Observed with_weaned(int good, int of) {
  Observed seen{.sowings = {{}}};
  seen.strikes = {{.on = make_date(2027, 5, 15), .struck = of, .weaned = SeenCount{make_date(2027, 8, 1), good, of}}};
  return seen;
}
LearntValues learnt(const Goal& goal, const Observed& seen) {
  return learnt_values(goal, mild_weather(goal), seen, {});
}

const LearntRate* rate_of(const LearntValues& values, Rung rung) {
  for (const LearntRate& one : values.rates) {
    if (one.rung == rung) return &one;
  }
  return nullptr;
}
const LearntTiming* timing_of(const LearntValues& values, ChainQuantity quantity) {
  for (const LearntTiming& one : values.timings) {
    if (one.quantity == quantity) return &one;
  }
  return nullptr;
}

// Without differences between batches a Beta belief and a count make a Beta: its points are Boost's.
TEST(LearntValues, ACountOfARateIsTheConjugateBeta) {
  const Goal goal = doubtful_goal();
  const LearntValues values = learnt(goal, with_weaned(80, 100));
  const LearntRate* weaning = rate_of(values, Rung::weaning);
  ASSERT_NE(weaning, nullptr);
  const evidence::Beta prior = evidence::beta_of(goal.rates[Rung::weaning]).value();
  const boost::math::beta_distribution<> after(prior.a + 80, prior.b + 20);
  EXPECT_NEAR(weaning->rate.low, quantile(after, 0.05), 2e-3);
  EXPECT_NEAR(*weaning->rate.about, quantile(after, 0.5), 2e-3);
  EXPECT_NEAR(weaning->rate.high, quantile(after, 0.95), 2e-3);
  EXPECT_EQ(weaning->counted, 100);
  EXPECT_FALSE(weaning->want);
}

// One season after the other is as good as both at once.
TEST(LearntValues, OneAfterTheOtherIsBothTogether) {
  Goal goal = doubtful_goal();
  const evidence::Beta prior = evidence::beta_of(goal.rates[Rung::weaning]).value();
  believe(learnt(goal, with_weaned(60, 80)), goal);
  believe(learnt(goal, with_weaned(150, 170)), goal);
  const boost::math::beta_distribution<> after(prior.a + 210, prior.b + 40);
  const auto& belief = std::get<Ranged>(goal.rates[Rung::weaning].belief);
  EXPECT_NEAR(belief.low, quantile(after, 0.05), 4e-3);
  EXPECT_NEAR(*belief.about, quantile(after, 0.5), 4e-3);
  EXPECT_NEAR(belief.high, quantile(after, 0.95), 4e-3);
  EXPECT_EQ(goal.species.rates[Rung::weaning].counted, 250);
  EXPECT_EQ(goal.species.rates[Rung::weaning].belief, goal.rates[Rung::weaning]);
}

TEST(LearntValues, OnlyWhatWasCountedAndNotKnown) {
  Goal goal = doubtful_goal();
  EXPECT_TRUE(learnt(goal, {.sowings = {{}}}).rates.empty());
  EXPECT_TRUE(learnt(goal, {.sowings = {{}}}).timings.empty());
  const LearntValues values = learnt(goal, with_weaned(80, 100));
  EXPECT_EQ(values.rates.size(), 1U);
  EXPECT_TRUE(values.timings.empty());
  goal.rates[Rung::weaning] = known(0.9);
  EXPECT_TRUE(learnt(goal, with_weaned(80, 100)).rates.empty());
}

// The chain's germination time is that of the goal's own lot, chilled as it is; a profile's is that of chilled seed.
TEST(LearntValues, TimesAreThoseOfAProfileHoweverLongTheSeedWasChilled) {
  Goal goal = doubtful_goal();
  goal.sown[0].lot.chill_days = 45;
  Observed seen{.sowings = {{.emerged = {{make_date(2027, 4, 8), 40, 200},
                                         {make_date(2027, 4, 20), 110, 200},
                                         {make_date(2027, 5, 10), 150, 200}}}}};
  const auto time = [&](int chilled) {
    goal.lot.chill_days = chilled;
    return timing_of(learnt(goal, seen), ChainQuantity::germination_time)->value.value;
  };
  const double full = time(45);
  EXPECT_NEAR(time(0) / full, 1, 0.01);
  EXPECT_EQ(rate_of(learnt(goal, seen), Rung::germination)->counted, 200);
}

TEST(LearntValues, ATakeIsSharedByAllWantsThatHaveNoneOfTheirOwn) {
  Goal goal = weekend_goal({60, 8, 5});
  goal.wants[0].own_take = goal.wants[1].own_take = false;
  goal.wants[2].own_take = true;
  const RateBelief own = goal.wants[2].take = ranged(0.2, 0.4, 0.6, 0.5);
  const LearntValues values{.timings = {}, .rates = {{Rung::take, {}, {0.5, 0.7, 0.6}, 300}}};
  believe(values, goal);
  EXPECT_EQ(goal.wants[0].take.belief, goal.wants[1].take.belief);
  EXPECT_EQ(std::get<Ranged>(goal.wants[0].take.belief), (Ranged{0.5, 0.7, 0.6}));
  EXPECT_EQ(goal.wants[2].take, own);
  EXPECT_EQ(goal.species.rates[Rung::take].counted, 300);
}

}  // namespace
}  // namespace strikebed::season
