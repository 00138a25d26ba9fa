// Lots: sowings of the grower's own beside what the plan asks for on top.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "example_goals.hpp"
#include "season/make_plan.hpp"
#include "season/timetable.hpp"

namespace strikebed::season {
namespace {

Plan plan_of(const Goal& goal, const climate::WeatherSeasons& weather) {
  return make_plan(goal, weather, {.seed = 3, .workers = {}, .progress = {}});
}

std::vector<float> emerging(const Sowing& sowing) { return sowing->emerging; }

// Whatever is sown beside it, a sowing's draws are its own; two sowings of one lot share what the lot germinates in the
// long run, two lots of one day what the bed does to them.
TEST(Lots, ASowingIsTheSameWhateverIsSownBesideIt) {
  const Example three = engine_example("ThreeLots");
  Goal one = three.goal;
  one.sown.erase(one.sown.begin(), one.sown.begin() + 2);
  const Asked all(three.goal, three.weather, 2, 7);
  const Asked alone(one, three.weather, 2, 7);
  const std::vector<Sowing> beside = all.sowings(three.sow);
  const std::vector<Sowing> apart = alone.sowings(three.sow);
  ASSERT_EQ(beside.size(), 4U);
  ASSERT_EQ(apart.size(), 2U);
  for (const std::size_t i : {0U, 1U}) {
    EXPECT_EQ(beside[i + 2]->accepted, apart[i]->accepted);
    EXPECT_EQ(beside[i + 2]->success[0], apart[i]->success[0]);
  }
  const Model known = all.model().with_known(all.model().chain().rates[Rung::germination][1].draw, 1.5);
  const std::vector<Sowing> better = known.sown_like(beside);
  EXPECT_NE(emerging(better[0]), emerging(beside[0]));
  EXPECT_NE(emerging(better[2]), emerging(beside[2])) << "the same lot, sown again";
  EXPECT_EQ(emerging(better[1]), emerging(beside[1]));
  EXPECT_EQ(emerging(better[3]), emerging(beside[3]));
  EXPECT_EQ(beside[0]->standing, beside[1]->standing) << "one bed, one day";
}

// The order in which a goal names them is no matter.
TEST(Lots, TheirOrderIsNoMatter) {
  const Example three = engine_example("ThreeLots");
  Goal turned = three.goal;
  std::ranges::reverse(turned.sown);
  const Asked as_said(three.goal, three.weather, 3, 8);
  const Asked other(turned, three.weather, 3, 8);
  const std::vector<double> all{1.0};
  EXPECT_NEAR(as_said.model().assurance(as_said.sowings(three.sow), 200, all).chance,
              other.model().assurance(other.sowings(three.sow), 200, all).chance, 2e-3)
      << "the order of those who wait for one session";
}

TEST(Lots, HalfAndHalfOfOneLotOnOneDayIsOneSowing) {
  Example stored = engine_example("FreshBesideStored");
  const Asked whole(stored.goal, stored.weather, 2, 7);
  const Sown one = stored.goal.sown[0];
  stored.goal.sown = {{one.on, one.seeds / 3, one.lot, one.germination},
                      {one.on, one.seeds - one.seeds / 3, one.lot, one.germination}};
  const Asked halves(stored.goal, stored.weather, 2, 7);
  const auto chance = [&](const Asked& asked) {
    return asked.model().assurance(asked.sowings(stored.sow), stored.seeds, stored.shares, Precision::exact).chance;
  };
  EXPECT_NEAR(chance(whole), chance(halves), 1e-12);
}

// Seed that had little cold comes up later and more scattered, beside seed of the goal's own lot that had enough, and
// fresh seed needs none.
TEST(Lots, EachGerminatesByItsOwnChilling) {
  Example two = engine_example("FreshBesideStored");
  two.goal.species = steady_pine();
  const auto half_up_after = [&](int chill_days, bool fresh) {
    Goal goal = two.goal;
    goal.sown[0].lot.chill_days = chill_days;
    goal.sown[0].lot.fresh = fresh;
    const Asked asked(goal, two.weather, 2, 1);
    const Sowing sown = asked.model().sown().front();
    const float* const clock = asked.sums().germination.season(asked.model().futures().weather(0));
    const auto by_day = emerging_by_day(asked.model().timing(0, sown), clock, sown.day(), asked.sums().days);
    float up = 0;
    int day = 0;
    while (up < 0.5F) up += by_day[static_cast<std::size_t>(day++)];
    return day;
  };
  const int chilled = half_up_after(45, false);
  EXPECT_GT(half_up_after(10, false), chilled + 2);
  EXPECT_GT(half_up_after(0, false), half_up_after(10, false));
  EXPECT_EQ(half_up_after(0, true), chilled);
}

// More in the bed already never asks for more on top, and in the end for nothing: then the plan says so.
TEST(Lots, TheMoreIsSownTheLessComesOnTop) {
  const Example two = engine_example("TwoSowings");
  Goal goal = two.goal;
  int before = kMostSeeds;
  for (const int sown : {1, 60, 150, 300, 500, 700, 900}) {
    goal.sown = {{two.sow[0], sown, lot_named("first"), goal.rates[Rung::germination]}};
    Study study(goal, two.weather, {.seed = 3, .workers = {}});
    study.sow_on({study.outlook(Look::whole).model().day(two.sow[1])});
    const SeedAnswer answer = study.seeds_needed(Look::whole);
    ASSERT_TRUE(answer.seeds.has_value()) << sown;
    EXPECT_LE(*answer.seeds, before) << sown;
    EXPECT_GE(study.how_sure(*answer.seeds, answer.shares, Look::whole, Precision::exact).chance, goal.assurance);
    before = *answer.seeds;
  }
  EXPECT_EQ(before, 0);
  const Plan plan = plan_of(goal, two.weather);
  EXPECT_TRUE(plan.met);
  EXPECT_EQ(plan.seeds, 0);
  EXPECT_GE(plan.assurance, goal.assurance);
  EXPECT_TRUE(plan.sow_dates.empty());
  ASSERT_EQ(plan.sowings.size(), 1U);
  EXPECT_EQ(plan.sowings[0].own, 0U);
  EXPECT_EQ(plan.sowings[0].seeds, 900);
  EXPECT_GT(plan.sowings[0].emerged.low, 300);
  EXPECT_FALSE(plan.sessions.empty());
  EXPECT_TRUE(plan.sweep.empty());
  EXPECT_TRUE(plan.unknowns.empty()) << "nothing can be saved";
  EXPECT_EQ(plan.needs.seed.size(), two.sow[0] < goal.today ? 0U : 1U);
}

// Where it is too late to sow on top, what is sown is still answered for.
TEST(Lots, WhatIsSownCountsWhereItIsTooLateToSowMore) {
  const Example two = engine_example("TwoSowings");
  Goal goal = two.goal;
  goal.lot = lot_named("late", 365);
  goal.sown = {{two.sow[0], 900, lot_named("first"), goal.rates[Rung::germination]}};
  const Plan enough = plan_of(goal, two.weather);
  EXPECT_TRUE(enough.met);
  EXPECT_EQ(enough.seeds, 0);
  EXPECT_FALSE(enough.sessions.empty());
  goal.sown[0].seeds = 250;
  const Plan few = plan_of(goal, two.weather);
  EXPECT_FALSE(few.met);
  EXPECT_EQ(few.seeds, 0);
  EXPECT_GT(few.assurance, 0);
  EXPECT_LT(few.assurance, goal.assurance);
  EXPECT_FALSE(few.sessions.empty());
  EXPECT_FALSE(few.limits.empty());
}

// Each sowing has its own days in the cold and its own count; what is to be sown, and weighed out, is told by lot; what
// not knowing costs tells their germination apart.
TEST(Lots, ThePlanTellsOfEach) {
  Example three = engine_example("ThreeLots");
  Goal& goal = three.goal;
  goal.today = make_date(2027, 4, 1);
  goal.sown[2].lot.seeds_per_gram = 50;
  const climate::WeatherSeasons weather = mild_weather(goal);
  const Plan plan = plan_of(goal, weather);
  ASSERT_TRUE(plan.met);
  ASSERT_EQ(plan.sowings.size(), 4U);
  for (std::size_t i = 0; i < plan.sowings.size(); ++i) {
    const SowingPlan& sowing = plan.sowings[i];
    EXPECT_EQ(sowing.own, i < 3 ? std::optional(i) : std::nullopt);
    const int chilled = lot_of(goal, sowing).chill_days;
    EXPECT_EQ(chilled, i == 1 ? 10 : 45);
    EXPECT_EQ(sowing.chill_start, sowing.on - Days{chilled});
    EXPECT_GT(sowing.count_date, sowing.on);
    EXPECT_GT(sowing.emerged.typical, 0.2 * sowing.seeds);
    EXPECT_LT(sowing.emerged.high, sowing.seeds);
  }
  EXPECT_EQ(plan.sowings[3].seeds, plan.seeds);
  EXPECT_GT(plan.sowings[1].count_date, plan.sowings[0].count_date) << "hardly chilled";
  // Sown on 27 March: in the bed. The rest is still to be weighed out.
  ASSERT_EQ(plan.needs.seed.size(), 2U);
  EXPECT_EQ(plan.needs.seed[0].lot, "first");
  EXPECT_EQ(plan.needs.seed[0].seeds, 60);
  EXPECT_DOUBLE_EQ(plan.needs.seed[0].grams, 60 / 50.0);
  EXPECT_EQ(plan.needs.seed[1].lot, "third");
  EXPECT_DOUBLE_EQ(plan.needs.seed[1].grams, plan.seeds / goal.seeds_per_gram(goal.lot));
  std::vector<std::string> unknown;
  for (const Unknown& one : plan.unknowns) {
    if (one.quantity == ChainQuantity::germination) unknown.push_back(one.lot);
  }
  std::ranges::sort(unknown);
  EXPECT_EQ(unknown, (std::vector<std::string>{"first", "second", "third"}));
  const auto entries = [&](CalendarKind kind) { return std::ranges::count(plan.calendar, kind, &CalendarEntry::kind); };
  EXPECT_EQ(entries(CalendarKind::sow), 2);
  EXPECT_EQ(entries(CalendarKind::chill), plan.sowings[3].chill_start >= goal.today ? 1 : 0);
  EXPECT_EQ(entries(CalendarKind::count), 4);
  const auto in_the_cold = [](const Remark& one) { return one.kind == RemarkKind::in_the_cold && one.lot == "first"; };
  EXPECT_EQ(std::ranges::count_if(plan.remarks, in_the_cold), 1) << "for the tenth of April, since February";
}

// The sowings that a goal allows are not always used: why is said.
TEST(Lots, WhyThereAreNoMoreSowingsIsSaid) {
  Example one = engine_example("WeekendsForTwoWants");
  const auto why = [&](const Goal& goal) { return plan_of(goal, one.weather).stagger; };
  EXPECT_FALSE(why(one.goal).has_value()) << "one sowing is asked for";
  one.goal.sessions.sowings_at_most = 3;
  Goal roomy = one.goal;
  roomy.sessions.cuttings_at_most.reset();
  ASSERT_TRUE(why(roomy).has_value());
  EXPECT_EQ(why(roomy)->why, Stagger::Why::room_for_all);
  Goal said = one.goal;
  said.sow_on = one.sow.front();
  ASSERT_TRUE(why(said).has_value());
  EXPECT_EQ(why(said)->why, Stagger::Why::day_said);
  Goal wide = one.goal;
  wide.sessions.cuttings_at_most = 2000;
  const auto never_full = why(wide);
  ASSERT_TRUE(never_full.has_value());
  EXPECT_TRUE(never_full->rarely_full);
  EXPECT_TRUE(never_full->why == Stagger::Why::none_better || never_full->why == Stagger::Why::saves_little);
  Example tight = engine_example("TwoSowings");
  tight.goal.sessions.sowings_at_most = 8;
  const Plan several = plan_of(tight.goal, tight.weather);
  EXPECT_GT(several.sow_dates.size(), 1U);
  ASSERT_TRUE(several.stagger.has_value()) << "fewer than eight";
  EXPECT_FALSE(several.stagger->rarely_full);
  if (several.stagger->why == Stagger::Why::saves_little) {
    EXPECT_LT(several.stagger->seeds_with_more, several.stagger->seeds);
  }
}

}  // namespace
}  // namespace strikebed::season
