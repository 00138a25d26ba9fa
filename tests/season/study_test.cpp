// A study stays warm: asked again after a change it answers as a fresh one would; draws go by name and date; what is
// known already is taken as it is.
#include "season/study.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>

#include "base/random.hpp"
#include "evidence/beta.hpp"
#include "example_goals.hpp"
#include "season/make_plan.hpp"

namespace strikebed::season {
namespace {

const StudyOptions kOptions{.seed = 3, .workers = {}};

/// The plan as it is when it has come so far.
Plan plan_until(PlanStage stage, Study& study) {
  Plan plan;
  Steps<PlanStep> steps = plan_in_steps(study, plan);
  while (plan.stage < stage && steps.next()) {
  }
  return plan;
}
Plan whole_plan(Study& study) { return plan_until(PlanStage::whole, study); }

struct Changed {
  std::string name;
  std::function<void(Goal&)> change;
};

const std::vector<Changed>& changes() {
  static const std::vector<Changed> all{
      {"Count", [](Goal& goal) { goal.wants[0].count -= 7; }},
      {"Assurance", [](Goal& goal) { goal.assurance = 0.8; }},
      {"Rate", [](Goal& goal) { goal.wants[0].take = tested(20, 30, 0.5); }},
      {"RateKnown", [](Goal& goal) { goal.rates[Rung::germination] = known(0.8); }},
      {"By", [](Goal& goal) { goal.by = goal.by - Days{12}; }},
      {"Room", [](Goal& goal) { goal.sessions.cuttings_at_most = 35; }},
      {"NoRoomLimit", [](Goal& goal) { goal.sessions.cuttings_at_most.reset(); }},
      {"Weekday", [](Goal& goal) { goal.sessions.weekdays[2] = true; }},
      {"SowingDay", [](Goal& goal) { goal.sow_on = make_date(2027, 4, 20); }},
      {"Seeds", [](Goal& goal) { goal.seeds_in_hand = 300; }},
      {"Timing", [](Goal& goal) { goal.species.ripening_time = between(300, 400, 600); }},
      {"Warmth", [](Goal& goal) { goal.bench.offset_c = 1.5; }},
      {"Stage", [](Goal& goal) { goal.count_at = CountAt::rooted; }},
      {"Sown", [](Goal& goal) { goal.sown = {{make_date(2027, 4, 1), 90, goal.lot, tested(20, 40, 0.3)}}; }},
      {"LotName", [](Goal& goal) { goal.lot.name = "another"; }},
      {"Chilling", [](Goal& goal) { goal.lot.chill_days = 12; }},
  };
  return all;
}

class Warm : public testing::TestWithParam<std::size_t> {};

// Every number of the plan, after each kind of change: from a study that has answered before, and from a fresh one.
TEST_P(Warm, AnswersAsAFreshOneWould) {
  const Example asked = engine_example("WeekendsForTwoWants");
  Study warm(asked.goal, asked.weather, kOptions);
  warm.sow_on({warm.outlook(Look::rough).model().day(asked.sow.front())});
  const SeedAnswer before = warm.seeds_needed(Look::whole);
  ASSERT_TRUE(before.seeds.has_value());
  Goal goal = asked.goal;
  changes()[GetParam()].change(goal);
  ASSERT_TRUE(warm.weather_reaches(goal));
  warm.change(goal);
  Study fresh(goal, asked.weather, kOptions);
  fresh.sow_on(warm.sow_days());
  for (const Look look : {Look::rough, Look::whole}) {
    const SeedAnswer a = warm.seeds_needed(look);
    const SeedAnswer b = fresh.seeds_needed(look);
    EXPECT_EQ(a.seeds, b.seeds);
    EXPECT_EQ(a.shares, b.shares);
    EXPECT_EQ(a.best_chance, b.best_chance);
  }
  if (GetParam() != 4) return;  // the rest of the plan once
  EXPECT_TRUE(whole_plan(warm) == whole_plan(fresh));
}

INSTANTIATE_TEST_SUITE_P(, Warm, testing::Range<std::size_t>(0, changes().size()),
                         [](const auto& changed) { return changes()[changed.param].name; });

// The same of seed that is in the ground already: as many more of it, or sown on another day.
TEST(Study, SownSeedMayBeMoreOrOfAnotherDay) {
  const Example asked = engine_example("WeekendsForTwoWants");
  Goal goal = asked.goal;
  goal.sown = {{make_date(2027, 4, 1), 90, goal.lot, tested(20, 40, 0.3)}};
  Study warm(goal, asked.weather, kOptions);
  const std::vector<double> shares{0.86, 0.14};
  const double before = warm.how_sure(0, shares, Look::whole).chance;
  for (const auto& [on, seeds] : {std::pair(make_date(2027, 4, 1), 200), std::pair(make_date(2027, 5, 20), 200)}) {
    goal.sown[0].on = on;
    goal.sown[0].seeds = seeds;
    warm.change(goal);
    Study fresh(goal, asked.weather, kOptions);
    const double chance = warm.how_sure(0, shares, Look::whole).chance;
    EXPECT_EQ(chance, fresh.how_sure(0, shares, Look::whole).chance);
    EXPECT_NE(chance, before);
  }
}

// What a change leaves as it was is not made anew.
TEST(Study, KeepsWhatAChangeDoesNotTouch) {
  const Example asked = engine_example("WeekendsForTwoWants");
  Study study(asked.goal, asked.weather, kOptions);
  study.sow_on({study.outlook(Look::rough).model().day(asked.sow.front())});
  const auto kept = [&] { return study.sowings(Look::rough).front(); };
  const Sowing first = kept();
  const ThermalSums* const warmth = &study.sums();
  Goal goal = asked.goal;
  goal.wants[0].count += 5;
  goal.sessions.cuttings_at_most = 30;
  study.change(goal);
  EXPECT_EQ(kept().in_futures, first.in_futures) << "a count and the room leave the sowing as it is";
  goal.rates[Rung::usable] = known(0.7);
  study.change(goal);
  EXPECT_NE(kept().in_futures, first.in_futures);
  EXPECT_EQ(kept()->offers, first->offers) << "a rate leaves the days as they are";
  goal.species.ripening_time = exactly(500);
  study.change(goal);
  EXPECT_NE(kept()->offers, first->offers);
  EXPECT_EQ(&study.sums(), warmth) << "a timing leaves the warmth as it is";
  goal.seedbed.at_least_c = 20;
  study.change(goal);
  EXPECT_NE(&study.sums(), warmth);
}

// The stages come in order, the first of them soon; whoever stops between two has what was said, and the study answers
// the next question as if nothing had been.
TEST(Study, AnswersInStagesAndCanBeStopped) {
  const Example asked = engine_example("SmallAndKnown");
  Study study(asked.goal, asked.weather, kOptions);
  const Plan first = plan_until(PlanStage::dates, study);
  EXPECT_EQ(first.stage, PlanStage::dates);
  Goal goal = asked.goal;
  goal.wants[0].count = 15;
  study.change(goal);
  std::vector<PlanStage> stages;
  Plan plan;
  double done = 0;
  for (Steps<PlanStep> steps = plan_in_steps(study, plan); steps.next();) {
    EXPECT_GE(steps.said().done, done);
    done = steps.said().done;
    if (stages.empty() || stages.back() != plan.stage) stages.push_back(plan.stage);
    if (plan.stage == PlanStage::quick) {
      EXPECT_EQ(plan.sow_dates, first.sow_dates);
      EXPECT_NEAR(plan.assurance, goal.assurance, 0.03);
    }
  }
  stages.push_back(plan.stage);
  EXPECT_EQ(stages,
            (std::vector{PlanStage::none, PlanStage::quick, PlanStage::number, PlanStage::dates, PlanStage::whole}));
  // Stopped after every number of steps.
  for (int steps_taken = 1; steps_taken < 60; steps_taken += 19) {
    study.change(asked.goal);
    Plan stopped;
    Steps<PlanStep> steps = plan_in_steps(study, stopped);
    for (int step = 0; step < steps_taken && steps.next(); ++step) {
    }
  }
  study.change(goal);
  Study fresh(goal, asked.weather, kOptions);
  fresh.sow_on(study.sow_days());
  EXPECT_TRUE(plan_until(PlanStage::dates, study) == plan_until(PlanStage::dates, fresh));
}

std::vector<float> draws(const Model& model, const DrawName& name) {
  const Scores scores = model.futures().scores(name);
  return {scores->begin(), scores->begin() + model.futures().count()};
}

// Knowing one rate exactly or almost exactly is the same: no other draw moves, so neither do seeds nor sowing day.
TEST(Draws, KnowingOneRateExactlyMovesNoOther) {
  Example asked = engine_example("WeekendsForTwoWants");
  asked.goal.rates[Rung::usable] = known(0.88, 0);
  Study exact(asked.goal, asked.weather, kOptions);
  asked.goal.rates[Rung::usable] = ranged(0.87999, 0.88, 0.88001);
  Study nearly(asked.goal, asked.weather, kOptions);
  const Plan a = plan_until(PlanStage::dates, exact);
  const Plan b = plan_until(PlanStage::dates, nearly);
  EXPECT_EQ(a.sow_dates, b.sow_dates);
  EXPECT_NEAR(a.seeds, b.seeds, 1);
  EXPECT_NEAR(a.assurance, b.assurance, 2e-3);  // of one seed
  ASSERT_EQ(a.sweep.size(), b.sweep.size());
}

// One want more moves no draw of another; batches of a sowing and of a session go by their dates.
TEST(Draws, OneWantMoreMovesNoOther) {
  const Example two = engine_example("TwoTakesAndAShortWindow");
  Goal one = two.goal;
  one.wants.pop_back();
  const Asked before(one, two.weather, 2, 8);
  const Asked after(two.goal, two.weather, 2, 8);
  for (const ChainRate* rate :
       {&before.model().chain().of_want(Rung::take, 0), &before.model().chain().of_want(Rung::grade, 0)}) {
    EXPECT_EQ(draws(before.model(), rate->draw), draws(after.model(), rate->draw));
    EXPECT_EQ(draws(before.model(), rate->batch), draws(after.model(), rate->batch));
  }
  const DrawName own = after.model().chain().of_want(Rung::take, 1).draw;
  EXPECT_NE(draws(after.model(), own), draws(after.model(), after.model().chain().of_want(Rung::take, 0).draw));
  const Sowing alone = before.sowings({two.sow.front()})[0];
  const Sowing among = after.sowings({two.sow.front() - Days{14}, two.sow.front()})[1];
  EXPECT_EQ(alone->accepted, among->accepted) << "an earlier sowing leaves a later one as it is";
  EXPECT_EQ(alone->success[0], among->success[0]);
}

// A day later, on the same weather: what lies ahead is drawn as before.
TEST(Draws, PassingADayMovesNone) {
  const Example asked = engine_example("WeekendsForTwoWants");
  Goal later = asked.goal;
  later.today += Days{1};
  climate::WeatherSeasons weather = asked.weather;
  weather.first += Days{1};
  --weather.days;
  for (auto* temperature : {&weather.tmin_c, &weather.tmax_c}) {
    std::vector<float> kept;
    for (std::size_t i = 0; i < temperature->size(); ++i) {
      if (i % static_cast<std::size_t>(asked.weather.days) != 0) kept.push_back((*temperature)[i]);
    }
    *temperature = kept;
  }
  const Asked now(asked.goal, asked.weather, 2, 8);
  const Asked then(later, weather, 2, 8);
  const Assurance a = now.model().assurance(now.sowings(asked.sow), 380, asked.shares, Precision::exact);
  const Assurance b = then.model().assurance(then.sowings(asked.sow), 380, asked.shares, Precision::exact);
  EXPECT_NEAR(a.chance, b.chance, 2e-4);  // the medium's temperature begins at the air's, a day later
}

// Two sowings of one plan have batch effects that are unrelated, and so have a sowing's own germination and standing.
TEST(Draws, BatchesOfTwoSowingsAreUnrelated) {
  const Futures futures(40, 12, 9, 3);
  const auto correlation = [&](const DrawName& a, const DrawName& b) {
    const Scores of_a = futures.scores(a);
    const Scores of_b = futures.scores(b);
    double sum = 0;
    for (std::size_t f = 0; f < of_a->size(); ++f) {
      sum += static_cast<double>((*of_a)[f]) * static_cast<double>((*of_b)[f]);
    }
    return sum / futures.count();
  };
  const auto batch = [](ChainQuantity quantity, int day) {
    return DrawName{.quantity = quantity, .of_batch = true, .day = make_date(2027, 3, 1) + Days{day}};
  };
  for (const int apart : {7, 14, 21, 28, 49}) {
    EXPECT_NEAR(correlation(batch(ChainQuantity::germination, 0), batch(ChainQuantity::germination, apart)), 0, 0.05);
    EXPECT_NEAR(correlation(batch(ChainQuantity::germination, 0), batch(ChainQuantity::standing, apart)), 0, 0.05);
  }
  const auto own = [&](ChainQuantity quantity, int day) {
    DrawName name = batch(quantity, day);
    name.owner = kOwnSowing;
    return name;
  };
  for (const int apart : {1, 2, 3, 4, 5, 6, 11, 77}) {
    EXPECT_NEAR(correlation(own(ChainQuantity::germination, 0), own(ChainQuantity::germination, apart)), 0, 0.05);
    EXPECT_NEAR(correlation(own(ChainQuantity::germination, 0), own(ChainQuantity::standing, apart)), 0, 0.05);
    EXPECT_NEAR(correlation(own(ChainQuantity::germination, 0), batch(ChainQuantity::germination, apart)), 0, 0.05);
  }
  EXPECT_NEAR(correlation(batch(ChainQuantity::germination, 3), batch(ChainQuantity::germination, 3)), 1, 0.02);
}

// Draws from near a posterior, weighted back: with the likelihood of a test of 41 good in 50 the assurance is that of a
// belief which had the test in it, and far more futures are left than by weighing the prior's draws.
TEST(Weights, DrawsFromNearAPosteriorGiveThePosterior) {
  Example asked = engine_example("WeekendsForTwoWants");
  constexpr double kGood = 45, kOf = 50;
  asked.goal.wants.pop_back();
  asked.goal.wants[0].count = 60;
  asked.goal.wants[0].take = ranged(0.3, 0.65, 0.9, 0.5);
  const evidence::Beta prior = evidence::beta_of(asked.goal.wants[0].take).value();
  // The same belief as a test, and with the other test added.
  Goal after = asked.goal;
  after.wants[0].take = tested(prior.a - 1 + kGood, prior.a + prior.b - 2 + kOf, 0.5);
  const Asked told(after, asked.weather, 12, 9);
  const std::vector<double> all{1.0};
  const Assurance expected = told.model().assurance(told.sowings(asked.sow), 250, all, Precision::exact);

  const Asked before(asked.goal, asked.weather, 12, 9);
  const ChainRate& take = before.model().chain().of_want(Rung::take, 0);
  const auto log_likelihood = [&](double score) {
    const double rate = take.curve.rate(score, 0);
    return kGood * std::log(rate) + (kOf - kGood) * std::log1p(-rate);
  };
  /// Scores mean + sd z in place of z, weighted back to the belief and by what was seen.
  const auto drawn = [&](double mean, double sd) {
    const Futures& futures = before.model().futures();
    Draws draws;
    std::vector<float>& scores = draws.scores[take.draw];
    for (const float z : std::span(*futures.scores(take.draw)).first(static_cast<std::size_t>(futures.count()))) {
      const double score = mean + sd * static_cast<double>(z);
      scores.push_back(static_cast<float>(score));
      draws.log_weights.push_back((static_cast<double>(z * z) - score * score) / 2 + log_likelihood(score));
    }
    return futures.with(std::move(draws));
  };
  const auto chance = [&](const Futures& futures) {
    const Model model(before.model().setting(), futures, {});
    const std::vector<Sowing> sowings{model.sowing(before.day(asked.sow.front()))};
    return model.assurance(sowings, 250, all, Precision::exact);
  };
  const Futures weighed = drawn(0, 1);
  const Futures near = drawn(1.1, 0.45);
  const Assurance by_weight = chance(weighed);
  const Assurance by_proposal = chance(near);
  EXPECT_NEAR(by_weight.chance, expected.chance, 4 * (by_weight.error + expected.error));
  EXPECT_NEAR(by_proposal.chance, expected.chance, 4 * (by_proposal.error + expected.error));
  EXPECT_GT(near.effective_count(), 2 * weighed.effective_count());
  EXPECT_GT(near.effective_count(), 0.6 * near.count());
  double weight = 0;
  for (int f = 0; f < near.count(); ++f) weight += near.weight(f) / near.count();
  EXPECT_NEAR(weight, 1, 1e-9);
}

// A batch effect of the past that is given is used, and only there.
TEST(Sown, AGivenBatchEffectIsUsed) {
  const Example asked = engine_example("WarmSeedbed");
  const Asked before(asked.goal, asked.weather, 2, 8);
  const Model& model = before.model();
  DrawName batch = model.chain().shared(Rung::germination).batch;
  batch.day = asked.sow.front();
  const Model good(model.setting(), model.futures().with_known(batch, 2), {});
  const int day = model.day(asked.sow.front());
  const float expected = static_cast<float>(evidence::share_of(evidence::logit_of(0.82) + 0.5 * 2));
  const Sowing sown = good.sowing(day);
  for (const float rate : sown->emerging) EXPECT_NEAR(rate, expected, 1e-6);
  EXPECT_EQ(good.sowing(day + 7)->emerging, model.sowing(day + 7)->emerging);
  // And of a session: its usable share alone.
  DrawName session = model.chain().of_want(Rung::take, 0).batch;
  session.day = model.date(model.sessions().day[5]);
  const Model poor(model.setting(), model.futures().with_known(session, -3), {});
  const Sowing with = poor.sowing(day);
  const Sowing without = model.sowing(day);
  const int sessions = model.sessions().count();
  for (std::size_t i = 0; i < with->success[0].size(); ++i) {
    if (static_cast<int>(i) % sessions == 5) {
      EXPECT_LE(with->success[0][i], without->success[0][i] + 1e-6F);
    } else {
      EXPECT_EQ(with->success[0][i], without->success[0][i]);
    }
  }
}

// Seeds in the bed count whatever else is sown: so many in one sowing are as sure as the same number asked about, and
// what is planned comes on top, not split evenly.
TEST(Sown, SeedsInTheBedStandBesideThoseAskedAbout) {
  const Example asked = engine_example("TwoSowings");
  const Asked one(asked.goal, asked.weather, 4, 8);
  std::vector<Sowing> sowings = one.sowings(asked.sow);
  const std::vector<double> all{1.0};
  const double even = one.model().assurance(sowings, 440, all).chance;
  sowings[0].sown = 220;
  EXPECT_EQ(one.model().assurance(sowings, 220, all).chance, even);
  sowings[0].sown = 400;
  sowings[1].sown = 40;
  const double uneven = one.model().assurance(sowings, 0, all).chance;
  EXPECT_EQ(one.model().assurance(sowings, 1000, all).chance, uneven) << "nothing is left to be sown";
  sowings[0].sown.reset();
  sowings[1].sown.reset();
  sowings[0].part = 10;
  EXPECT_EQ(one.model().assurance(sowings, 440, all).chance, uneven);
  EXPECT_EQ(split_seeds(440, sowings), (std::vector<int>{400, 40}));

  Goal goal = asked.goal;
  goal.sown = {{asked.sow[0], 300, goal.lot, goal.rates[Rung::germination]}};
  Study study(goal, asked.weather, kOptions);
  const Plan plan = plan_until(PlanStage::dates, study);
  EXPECT_TRUE(plan.met);
  Study unsown(asked.goal, asked.weather, kOptions);
  EXPECT_LT(plan.seeds, plan_until(PlanStage::dates, unsown).seeds) << "less is to be sown where much is";
}

// One seed more is one more in one sowing, whatever the parts.
TEST(Sown, SplitsAreMonotonic) {
  const Example asked = engine_example("TwoSowings");
  const Asked one(asked.goal, asked.weather, 2, 4);
  std::vector<Sowing> sowings = one.sowings({asked.sow[0], asked.sow[1], asked.sow[1] + Days{9}});
  sowings[0].part = 3;
  sowings[1].part = 0.7;
  std::vector<int> before = split_seeds(0, sowings);
  for (int seeds = 1; seeds < 2000; ++seeds) {
    const std::vector<int> now = split_seeds(seeds, sowings);
    int more = 0;
    for (std::size_t i = 0; i < now.size(); ++i) {
      ASSERT_GE(now[i], before[i]) << seeds;
      more += now[i] - before[i];
    }
    ASSERT_EQ(more, 1) << seeds;
    before = now;
  }
  EXPECT_NEAR(before[0], 1999 * 3 / 4.7, 1.5);
}

}  // namespace
}  // namespace strikebed::season
