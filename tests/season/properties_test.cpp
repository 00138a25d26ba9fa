// What must hold of any season, whatever the goal.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <numeric>

#include "example_goals.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

// More seeds never lower the assurance: every number from 20 to 1,000 and a comb up to 6,000, on one set of futures.
// Room is left for rounding where every seed is a try of its own; where sessions are full, the luck of a session is a
// whole number of cuttings, and its steps make falls of up to 6e-5 (found with 4,816 seeds and room for 45): 1e-4 is
// allowed.
TEST(Properties, MoreSeedsNeverLowerTheAssurance) {
  for (const Example& example : engine_examples()) {
    const double allowed = example.goal.sessions.cuttings_at_most ? 1e-4 : 1e-11;
    const Asked asked(example.goal, example.weather, 2, 6);
    const std::vector<Sowing> sowings = asked.sowings(example.sow);
    double most = 0;
    for (int seeds = 20; seeds <= 6'000; seeds += seeds < 1'000 ? 1 : 53) {
      const double now = asked.model().assurance(sowings, seeds, example.shares).chance;
      ASSERT_GE(now, most - allowed) << example.name << ", " << seeds << " seeds";
      most = std::max(now, most);
    }
    EXPECT_GT(most, 0.5) << example.name;
  }
}

// --- More freedom never makes it worse -------------------------------------------------------------------------------

/// How sure, with the best of three patiences where room is short.
Assurance surest(const Goal& goal, const Example& of, int seeds) {
  Assurance best;
  for (const double patience : {kMostPatience, 0.5, 0.0}) {
    const Asked asked(goal, of.weather, 4, 8);
    const Model model = asked.model().with_patience(patience);
    std::vector<Sowing> sowings;
    for (const Date day : of.sow) sowings.push_back(model.sowing(asked.day(day)));
    const Assurance now = model.assurance(sowings, seeds, of.shares);
    if (now.chance > best.chance) best = now;
    if (!goal.sessions.cuttings_at_most) break;
  }
  return best;
}

/// Each is at least as sure as the one before, within three standard errors of both: sessions on other days have other
/// luck. Batches of a session share their luck, so that of a goal unlikely to be met fewer sessions may be surer, as
/// one bold stake is; these are left out.
void expect_never_worse(const std::vector<Goal>& freer, const Example& of, int seeds) {
  constexpr double kLikely = 0.5;
  constexpr double kAtTheEnds = 1e-4;  // where hardly any future fails, their scatter says nothing
  Assurance before;
  for (std::size_t i = 0; i < freer.size(); ++i) {
    const Assurance now = surest(freer[i], of, seeds);
    if (before.chance > kLikely) {
      EXPECT_GT(now.chance, before.chance - kAtTheEnds - 3 * std::hypot(now.error, before.error))
          << of.name << ", " << seeds << " seeds" << ", freedom " << i;
    }
    before = now;
  }
  if (seeds > of.seeds) {
    EXPECT_GT(before.chance, kLikely) << of.name << ": nothing was tested";
  }
}

Goal on_weekdays(Goal goal, std::initializer_list<int> iso_weekdays) {
  goal.sessions.dates.reset();
  goal.sessions.weekdays.fill(false);
  for (const int day : iso_weekdays) goal.sessions.weekdays[static_cast<std::size_t>(day - 1)] = true;
  return goal;
}

// Four Saturdays, every Saturday, twice a week, every day but Sunday, every day; with and without a limit of room.
TEST(Freedom, MoreSessionDaysNeverLowerTheAssurance) {
  for (Example& example : engine_examples()) {
    for (const bool has_room : {false, true}) {
      Goal goal = example.goal;
      if (has_room) goal.sessions.cuttings_at_most.reset();
      Goal four = on_weekdays(goal, {6});
      four.sessions.dates.emplace();
      const Asked saturdays(on_weekdays(goal, {6}), example.weather, 2, 1);
      const auto& days = saturdays.model().sessions().day;
      for (std::size_t i = 1; i <= 4; ++i) {
        four.sessions.dates->push_back(saturdays.model().date(days[i * (days.size() - 1) / 5]));
      }
      for (const int seeds : {example.seeds, 3 * example.seeds}) {
        expect_never_worse({four, on_weekdays(goal, {6}), on_weekdays(goal, {3, 6}),
                            on_weekdays(goal, {1, 2, 3, 4, 5, 6}), on_weekdays(goal, {1, 2, 3, 4, 5, 6, 7})},
                           example, seeds);
      }
    }
  }
}

TEST(Freedom, MoreRoomNeverLowersTheAssurance) {
  for (const Example& example : engine_examples()) {
    std::vector<Goal> freer;
    for (const int room : {4, 6, 9, 13, 20, 30, 45, 70, 100}) {
      freer.push_back(example.goal);
      freer.back().sessions.cuttings_at_most = room;
    }
    freer.push_back(example.goal);
    freer.back().sessions.cuttings_at_most.reset();
    for (const int seeds : {example.seeds, 3 * example.seeds}) expect_never_worse(freer, example, seeds);
  }
}

// No session is ruled out that could be of use: all days, named as weekdays or listed one by one, are the same.
TEST(Freedom, EveryDayAndTheSameDaysListedAreTheSame) {
  for (const Example& example : engine_examples()) {
    const Goal every_day = on_weekdays(example.goal, {1, 2, 3, 4, 5, 6, 7});
    Goal listed = every_day;
    listed.sessions.dates.emplace();
    for (Date day = listed.today; day <= listed.by; day += Days{1}) listed.sessions.dates->push_back(day);
    const Asked one(every_day, example.weather, 2, 6);
    const Asked other(listed, example.weather, 2, 6);
    EXPECT_EQ(one.model().assurance(one.sowings(example.sow), example.seeds, example.shares).chance,
              other.model().assurance(other.sowings(example.sow), example.seeds, example.shares).chance)
        << example.name;
  }
}

// The strike rule: letting all seedlings get riper, or less ripe, or striking none before or after a day brings no more
// plants, with room for all.
TEST(Freedom, NoOtherStrikeRuleBringsMorePlants) {
  constexpr double kHardly = 1.01;  // the rule looks one session ahead, in the usual season
  for (Example& example : engine_examples()) {
    Goal goal = example.goal;
    goal.sessions.cuttings_at_most.reset();
    const Asked asked(goal, example.weather, 2, 7);
    const auto plants = [&](const std::vector<float>& strike_from) {
      Setting setting = asked.model().setting();
      setting.sessions.strike_from = strike_from;
      const Model model(setting, asked.model().futures(), {});
      double sum = 0;
      for (const Date day : example.sow) {
        const Sowing sowing = model.sowing(asked.day(day));
        for (const auto& counted : sowing->counted) sum += std::accumulate(counted.begin(), counted.end(), 0.0);
      }
      return sum;
    };
    const std::vector<float>& rule = asked.model().sessions().strike_from;
    const double most = plants(rule);
    for (const float riper : {-1.0F, -0.5F, -0.25F, -0.1F, 0.1F, 0.25F, 0.5F}) {
      std::vector<float> other = rule;
      for (float& place : other) place = std::clamp(place + riper, 0.0F, 1.0F);
      other.back() = 0;
      EXPECT_LT(plants(other), kHardly * most) << example.name << ", riper by " << riper;
    }
  }
}

// In a spring that stays below the optimum, every degree more brings every share of the sowing up no later.
TEST(Properties, WarmerSpringNeverDelaysEmergence) {
  Goal goal = weekend_goal({10});
  goal.species = doubtful_pine();
  goal.seedbed = {};
  constexpr int kSown = 60;  // days from 15 January
  constexpr int kSpring = 170;
  constexpr float kWarmest_c = 18;  // with four degrees more still below the optimum of 23
  climate::WeatherSeasons weather = mild_weather(goal);
  for (auto* temperatures : {&weather.tmin_c, &weather.tmax_c}) {
    for (float& temperature : *temperatures) temperature = std::min(temperature, kWarmest_c);
  }
  std::vector<std::vector<float>> before;
  for (int warmer_c = 0; warmer_c <= 4; ++warmer_c) {
    const Asked asked(goal, weather, 2, 6);
    std::vector<std::vector<float>> now;
    for (int f = 0; f < asked.model().futures().count(); ++f) {
      const Timing& timing = asked.model().timing(f);
      const int season = asked.model().futures().weather(f);
      std::vector<float> emerged = emerging_by_day(timing, asked.sums().germination.season(season), kSown, kSpring);
      std::partial_sum(emerged.begin(), emerged.end(), emerged.begin());
      emerged.resize(kSpring - kSown, emerged.back());
      now.push_back(emerged);
    }
    for (std::size_t f = 0; f < before.size(); ++f) {
      for (std::size_t d = 0; d < before[f].size(); ++d) {
        ASSERT_GE(now[f][d], before[f][d] - 1e-6F) << "future " << f << ", day " << d << ", " << warmer_c << " more";
      }
    }
    before = now;
    for (auto* temperatures : {&weather.tmin_c, &weather.tmax_c}) {
      for (float& temperature : *temperatures) temperature += 1;
    }
  }
  for (const std::vector<float>& emerged : before) EXPECT_GT(emerged.back(), 0.5F);  // or nothing was tested
}

// Offered shares are shares: none below 0, at most 1 together, and 1 when nothing limits.
TEST(Properties, OfferedSharesAreAtMostAllAndAllWhenNothingLimits) {
  for (const Example& example : engine_examples()) {
    const Asked asked(example.goal, example.weather, 2, 6);
    for (const Sowing& sowing : asked.sowings(example.sow)) {
      for (int f = 0; f < asked.model().futures().count(); ++f) {
        double sum = 0;
        for (int s = 0; s < asked.model().sessions().count(); ++s) {
          const auto offered = static_cast<double>(sowing->offers->offered[sowing->offers->at(f, s)]);
          ASSERT_GE(offered, 0) << example.name;
          sum += offered;
        }
        ASSERT_LE(sum, 1 + 1e-6) << example.name;
      }
    }
  }
  const Goal goal = goal_without_limits(10);
  const Asked asked(goal, even_weather(goal.today, 330, 15), 2, 2);
  const Sowing sowing = asked.model().sowing(0);
  double sum = 0;
  for (int s = 0; s < asked.model().sessions().count(); ++s) {
    sum += static_cast<double>(sowing->offers->offered[sowing->offers->at(0, s)]);
  }
  EXPECT_NEAR(sum, 1, 1e-6);
}

// Knowing something that plays no part (the winter, when plants are counted weaned) changes nothing at all.
TEST(Properties, KnowingWhatPlaysNoPartChangesNothing) {
  Goal goal = weekend_goal({40});
  goal.rates[Rung::germination] = tested(41, 50, 0.3);
  goal.rates[Rung::winter] = ranged(0.5, 0.8, 0.95, 0.5);
  goal.sessions.cuttings_at_most = 20;
  const climate::WeatherSeasons weather = mild_weather(goal);
  const Asked asked(goal, weather, 4, 8);
  const std::vector<double> shares{1.0};
  const std::vector<Sowing> sowings = asked.sowings({make_date(2027, 4, 3)});
  const double before = asked.model().assurance(sowings, 180, shares, Precision::exact).chance;
  const Model& model = asked.model();
  const auto pinned_chance = [&](const DrawName& name) {
    const Model pinned(model.setting(), model.futures().with_known(name, -1.3), {});
    const std::vector<Sowing> again{pinned.sowing(asked.day(make_date(2027, 4, 3)))};
    return pinned.assurance(again, 180, shares, Precision::exact).chance;
  };
  EXPECT_EQ(pinned_chance(model.chain().shared(Rung::winter).draw), before);
  EXPECT_EQ(pinned_chance(model.chain().shared(Rung::winter).batch), before);
  EXPECT_NE(pinned_chance(model.chain().shared(Rung::germination).draw), before);
}

}  // namespace
}  // namespace strikebed::season
