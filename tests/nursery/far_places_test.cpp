// What the plan decides far from the demo's place and habits. Normals are rounded from memory of the kind of place, not
// of a station; what is held here is the sense of the decisions, not their numbers.
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <ostream>
#include <string>

#include "nursery/make_plan.hpp"
#include "shipped.hpp"

namespace strikebed::nursery {
namespace {

struct Place {
  std::string_view name;
  double latitude, longitude;
  std::array<double, 12> tmax, tmin;  ///< °C, January first
};

constexpr Place kMildCoast{"mild_coast",
                           47.6,
                           -122.3,
                           {8, 10, 12, 15, 19, 21, 25, 25, 22, 16, 11, 8},
                           {2, 2, 4, 6, 9, 12, 14, 14, 11, 8, 5, 2}};
constexpr Place kHotCoast{"hot_coast",
                          31.6,
                          130.6,
                          {13, 14, 17, 21, 25, 27, 32, 33, 30, 26, 20, 15},
                          {5, 5, 8, 13, 17, 21, 25, 26, 23, 17, 11, 6}};
constexpr Place kSouth{
    "south", -43.5, 172.5, {23, 22, 20, 18, 15, 12, 11, 12, 15, 17, 19, 21}, {12, 12, 10, 7, 5, 2, 2, 3, 4, 6, 8, 11}};
constexpr Place kFarNorth{
    "far_north", 61, 10, {-5, -3, 2, 8, 15, 19, 22, 20, 14, 7, 1, -4}, {-12, -11, -7, -1, 4, 9, 11, 10, 6, 1, -4, -10}};
constexpr Place kContinental{"continental",
                             49.9,
                             -97.1,
                             {-11, -8, -1, 10, 18, 23, 26, 25, 19, 10, -0.5, -9},
                             {-21, -18, -11, -2, 5, 11, 13, 12, 7, 0, -9, -17}};
constexpr Place kCoolCoast{
    "cool_coast", 55.9, -3.3, {7, 8, 9, 12, 15, 17, 19, 19, 17, 13, 10, 7}, {1, 1, 2, 4, 6, 9, 11, 11, 9, 6, 3, 1}};

constexpr std::string_view kOnSaturdays = "[sessions]\nweekdays = [\"Saturday\"]\n";

/// Sixty black pines, weaned, on Saturdays; unheated, and on other days, unless `more` says else.
season::Plan planned(const Place& place, Date today, Date by, const std::string& more = "",
                     std::string_view count_at = "weaned", std::optional<int> seeds = {},
                     std::string_view sessions = kOnSaturdays) {
  PlanRequest asked;
  asked.seeds = seeds;
  asked.goal = {"goal.toml", fmt::format("species = \"pinus-thunbergii\"\nby = {}\ncount_at = \"{}\"\n"
                                         "[[want]]\nbase_form = \"radial\"\ncount = 60\n"
                                         "[place]\nlatitude = {}\nlongitude = {}\nelevation_m = 10\n"
                                         "[place.normals]\ntmax = [{}]\ntmin = [{}]\n"
                                         "{}{}",
                                         to_iso(by), count_at, place.latitude, place.longitude,
                                         fmt::join(place.tmax, ", "), fmt::join(place.tmin, ", "), sessions, more)};
  asked.today = today;
  auto answer = make_plan(asked, shipped_library());
  EXPECT_TRUE(answer.ok()) << place.name << ": " << answer.error().problem;
  return answer.ok() ? answer->plan : season::Plan{};
}

const season::Limit* limit_of(const season::Plan& plan, season::LimitKind kind) {
  const auto found = std::ranges::find(plan.limits, kind, &season::Limit::kind);
  return found == plan.limits.end() ? nullptr : &*found;
}

/// Planned in June for the autumn of the year after next: nobody sows into a winter that costs lives, nor weeks before
/// seed can come up.
struct Spring {
  Place place;
  Date by;
  Date sow_from, sow_to;  ///< when a grower would sow outdoors
  friend void PrintTo(const Spring& spring, std::ostream* out) { *out << spring.place.name; }
};
class PlannedInJune : public testing::TestWithParam<Spring> {};
TEST_P(PlannedInJune, SowsInSpring) {
  const Spring& asked = GetParam();
  const season::Plan plan = planned(asked.place, make_date(2027, 6, 15), asked.by, "[seedbed]\nair = \"outdoor\"\n");
  ASSERT_FALSE(plan.sow_dates.empty());
  EXPECT_GE(plan.sow_dates.front(), asked.sow_from) << to_iso(plan.sow_dates.front());
  EXPECT_LE(plan.sow_dates.front(), asked.sow_to) << to_iso(plan.sow_dates.front());
}
INSTANTIATE_TEST_SUITE_P(
    FarPlaces, PlannedInJune,
    testing::Values(Spring{kMildCoast, make_date(2028, 10, 1), make_date(2028, 3, 1), make_date(2028, 4, 30)},
                    Spring{kHotCoast, make_date(2028, 10, 1), make_date(2028, 1, 1), make_date(2028, 3, 31)},
                    Spring{kSouth, make_date(2028, 4, 1), make_date(2027, 8, 15), make_date(2027, 10, 15)},
                    Spring{kFarNorth, make_date(2028, 10, 1), make_date(2028, 3, 15), make_date(2028, 5, 15)},
                    Spring{kContinental, make_date(2028, 10, 1), make_date(2028, 4, 1), make_date(2028, 5, 31)},
                    Spring{kCoolCoast, make_date(2028, 10, 1), make_date(2028, 1, 15), make_date(2028, 4, 15)}),
    [](const auto& one) { return std::string(one.param.place.name); });

// Seed does not lie in a cold bed from February to the end of April where a day in March does nearly as well.
TEST(FarPlaces, NothingLiesInTheColdForMonths) {
  const season::Plan plan = planned(kCoolCoast, make_date(2026, 11, 25), make_date(2027, 10, 1));
  ASSERT_FALSE(plan.sow_dates.empty());
  EXPECT_GE(plan.sow_dates.front(), make_date(2027, 3, 1)) << to_iso(plan.sow_dates.front());
  EXPECT_TRUE(plan.waits_for_warmth);
  for (const season::SowingPoint& point : plan.sweep) {
    if (point.seeds) {
      EXPECT_LE(plan.seeds, *point.seeds * 1.1) << to_iso(point.sow);
    }
  }
}

// Nor for more than six weeks in a cool house, sown in January.
TEST(FarPlaces, NothingLiesLongInAColdHouse) {
  const season::Plan plan =
      planned(kCoolCoast, make_date(2026, 11, 25), make_date(2028, 3, 1), "[seedbed]\nair = \"outdoor\"\noffset = 5\n");
  ASSERT_FALSE(plan.sow_dates.empty());
  EXPECT_GE(plan.sow_dates.front(), make_date(2027, 2, 10)) << to_iso(plan.sow_dates.front());
  for (const season::SowingPoint& point : plan.sweep) {
    if (point.seeds) {
      EXPECT_LE(plan.seeds, *point.seeds * 1.1) << to_iso(point.sow);
    }
  }
}

// Seeds in hand lie in the cold no longer than others: plenty of them are sown when they can come up.
TEST(FarPlaces, SeedsInHandAreSownInSpringToo) {
  const season::Plan plan = planned(kContinental, make_date(2027, 6, 15), make_date(2028, 10, 1),
                                    "[seedbed]\nair = \"outdoor\"\n", "weaned", 1500);
  ASSERT_FALSE(plan.sow_dates.empty());
  EXPECT_GE(plan.sow_dates.front(), make_date(2028, 3, 25)) << to_iso(plan.sow_dates.front());
  EXPECT_LE(plan.sow_dates.front(), make_date(2028, 5, 31)) << to_iso(plan.sow_dates.front());
}

// Where there is no time but through the winter, the plan says what it counts on.
TEST(FarPlaces, ThroughTheWinterSaysWhatItCountsOn) {
  const season::Plan plan =
      planned(kMildCoast, make_date(2027, 6, 15), make_date(2028, 6, 15), "[seedbed]\nair = \"outdoor\"\n");
  ASSERT_FALSE(plan.sow_dates.empty());
  EXPECT_LT(plan.sow_dates.front(), make_date(2027, 10, 1));
  const auto said = std::ranges::find(plan.remarks, season::RemarkKind::cold_seedlings, &season::Remark::kind);
  ASSERT_NE(said, plan.remarks.end());
  EXPECT_GT(said->share, 0.05);
  const auto wintered = std::ranges::find(plan.stages, season::Stage::wintered, &season::StageCount::stage);
  ASSERT_NE(wintered, plan.stages.end()) << "some are struck before the winter, and live through it";
  EXPECT_LT(wintered->plants, (wintered - 1)->plants * 0.97);
}

// Heat is not called cold: a bed in a hot summer wants shade and not heating.
TEST(FarPlaces, InAHotSummerShadeHelps) {
  const season::Plan plan =
      planned(kHotCoast, make_date(2027, 5, 20), make_date(2027, 11, 1), "[seedbed]\nair = \"outdoor\"\n");
  const season::Limit* hot = limit_of(plan, season::LimitKind::hot);
  ASSERT_NE(hot, nullptr);
  EXPECT_TRUE(hot->seedbed);
  EXPECT_LT(hot->lifted->seeds.value(), plan.seeds / 2);
  EXPECT_EQ(limit_of(plan, season::LimitKind::cold), nullptr);
}

TEST(FarPlaces, ABedHeldAt45DegreesIsHot) {
  const season::Plan plan =
      planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1), "[seedbed]\nfixed = 45\n");
  EXPECT_FALSE(plan.met);
  ASSERT_EQ(plan.limits.size(), 1U);
  EXPECT_EQ(plan.limits.front().kind, season::LimitKind::hot);
  EXPECT_TRUE(plan.limits.front().seedbed);
  EXPECT_TRUE(plan.limits.front().lifted->seeds.has_value());
}

// Where neither bed nor bench alone is what is in the way, both are named.
TEST(FarPlaces, BedAndBenchHeldAt45DegreesAreBothHot) {
  const season::Plan plan = planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1),
                                    "[seedbed]\nfixed = 45\n[bench]\nfixed = 45\n");
  EXPECT_FALSE(plan.met);
  ASSERT_EQ(plan.limits.size(), 1U);
  const season::Limit& limit = plan.limits.front();
  EXPECT_EQ(limit.kind, season::LimitKind::hot);
  EXPECT_TRUE(limit.seedbed && limit.bench);
  EXPECT_TRUE(limit.lifted->seeds.has_value());
}

// Planned in late spring, six weeks of chilling cost more than seed that comes up slowly; what is named is what it
// takes.
TEST(FarPlaces, ChillingThatPutsTheSowingOffIsNamed) {
  const Date today = make_date(2026, 11, 25);
  const Date by = make_date(2027, 6, 1);
  const season::Plan plan = planned(kSouth, today, by, "[seedbed]\nair = \"outdoor\"\n");
  const season::Limit* chilling = limit_of(plan, season::LimitKind::chilling);
  ASSERT_NE(chilling, nullptr);
  ASSERT_TRUE(chilling->lifted->seeds.has_value());
  EXPECT_LT(*chilling->lifted->seeds, plan.seeds / 2);
  const season::Plan less = planned(
      kSouth, today, by, fmt::format("[seedbed]\nair = \"outdoor\"\n[lot]\nchill_days = {}\n", chilling->chill_days));
  EXPECT_LT(less.seeds, *chilling->lifted->seeds * 1.15);
  EXPECT_GT(less.seeds * 1.15, *chilling->lifted->seeds);
}

TEST(FarPlaces, ATakeOfNothingIsNotAMatterOfDates) {
  const season::Plan plan =
      planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1), "[rates]\ntake = 0.0\n");
  EXPECT_FALSE(plan.met);
  ASSERT_EQ(plan.limits.size(), 1U);
  EXPECT_EQ(plan.limits.front().kind, season::LimitKind::rate);
  EXPECT_EQ(plan.limits.front().rung, growth::Rung::take);
}

TEST(FarPlaces, ASessionBeforeAnySeedlingIsRipeIsTooEarly) {
  const season::Plan plan = planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1), "", "weaned", {},
                                    "[sessions]\ndates = [2027-02-20]\n");
  EXPECT_FALSE(plan.met);
  const season::Limit* days = limit_of(plan, season::LimitKind::bench_days);
  ASSERT_NE(days, nullptr);
  EXPECT_GT(days->date, make_date(2027, 4, 1));
  EXPECT_TRUE(days->lifted->seeds.has_value());
}

// What would save most is said of a goal that can be met, and nothing that lies within the scatter of the futures.
TEST(FarPlaces, WhatSavesMostIsSaidOfGoalsThatAreMet) {
  const season::Plan cool =
      planned(kCoolCoast, make_date(2027, 6, 15), make_date(2028, 10, 1), "[seedbed]\nair = \"outdoor\"\n");
  EXPECT_TRUE(cool.met);
  ASSERT_FALSE(cool.limits.empty());
  for (const season::Limit& limit : cool.limits) {
    EXPECT_LT(limit.lifted->seeds.value(), 0.95 * cool.seeds);
    EXPECT_LT(limit.lifted->seeds.value(), cool.seeds_low);
    EXPECT_GE(limit.lifted->seeds.value(), cool.limits.front().lifted->seeds.value());
  }
  const season::Plan easy = planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1),
                                    "[seedbed]\nat_least = 18\n[bench]\nat_least = 18\n");
  EXPECT_TRUE(easy.met);
  EXPECT_TRUE(easy.limits.empty());
}

// The winter moves with the date: established plants that come too late for one winter are there after the next.
TEST(FarPlaces, ALaterDateHasALaterWinter) {
  const season::Plan plan = planned(kFarNorth, make_date(2027, 6, 15), make_date(2028, 10, 1),
                                    "[seedbed]\nair = \"outdoor\"\n", "established");
  EXPECT_FALSE(plan.met);
  ASSERT_TRUE(plan.nearest.by.has_value());
  EXPECT_GT(*plan.nearest.by, make_date(2029, 4, 1));
}

// Too late for the winter to come, the goal is met after the one after it, however far off that is; and the number that
// is named with the date is what it takes.
TEST(FarPlaces, ANextWinterIsLookedForHoweverFarOff) {
  constexpr double kAbout = 1.1;  // two figures, and a later day within 8 % of the fewest
  const Date today = make_date(2027, 8, 1);
  const season::Plan plan = planned(kMildCoast, today, make_date(2028, 5, 1), "", "established");
  EXPECT_FALSE(plan.met);
  ASSERT_TRUE(plan.nearest.by.has_value());
  EXPECT_GT(*plan.nearest.by, make_date(2029, 2, 1));
  EXPECT_LT(*plan.nearest.by, make_date(2029, 6, 1));
  ASSERT_TRUE(plan.nearest.by_seeds.has_value());
  const season::Plan then = planned(kMildCoast, today, *plan.nearest.by, "", "established");
  EXPECT_TRUE(then.met);
  EXPECT_LT(then.seeds, *plan.nearest.by_seeds * kAbout);
  EXPECT_GT(then.seeds * kAbout, *plan.nearest.by_seeds);
}

// A bed or bench is told to be too cold or too hot, not both: sown in autumn a warmer one and a cooler one may both
// help.
TEST(FarPlaces, NothingIsColdAndHotAtOnce) {
  for (const Place& place : {kMildCoast, kHotCoast, kSouth, kCoolCoast}) {
    const season::Plan plan = planned(place, make_date(2027, 6, 15), make_date(2028, 5, 1), "", "established");
    for (const auto position : {&season::Limit::seedbed, &season::Limit::bench}) {
      const auto names_it = [&](const season::Limit& limit) { return (limit.*position).has_value(); };
      EXPECT_LE(std::ranges::count_if(plan.limits, names_it), 1) << place.name;
    }
  }
}

// Where the plan chooses the rhythm, the number beside it is the plan's own, and nobody who may come more often needs
// more; what the choice itself costs stays within its tenth.
TEST(FarPlaces, ComingMoreOftenIsNeverSaidToNeedMore) {
  for (const Place& place : {kMildCoast, kFarNorth, kContinental}) {
    const season::Plan plan = planned(place, make_date(2026, 11, 25), make_date(2027, 10, 1), "", "weaned", {}, "");
    ASSERT_EQ(plan.rhythms.size(), season::kRhythms.size()) << place.name;
    ASSERT_TRUE(plan.met);
    for (const season::RhythmPoint& point : plan.rhythms) {
      ASSERT_TRUE(point.seeds.has_value());
      if (point.rhythm == plan.habit.rhythm) {
        EXPECT_EQ(*point.seeds, plan.seeds) << place.name;
      }
      if (point.rhythm > season::Rhythm::three_weeks) {
        EXPECT_LE(*point.seeds, (&point - 1)->seeds) << place.name;
      }
    }
    EXPECT_LE(plan.seeds, *plan.rhythms.back().seeds * 1.1 + 1) << place.name;
  }
}

// More seeds than anyone would sow are no answer: the goal is out of reach, and the best is said for so many.
TEST(FarPlaces, ThousandsOfSeedsAPlantAreNoAnswer) {
  const season::Plan plan =
      planned(kMildCoast, make_date(2026, 11, 25), make_date(2027, 10, 1), "[rates]\ntake = 0.004\n");
  EXPECT_FALSE(plan.met);
  EXPECT_LE(plan.seeds, 60 * 200);
  for (const season::SowingPoint& point : plan.sweep) {
    EXPECT_TRUE(!point.seeds || *point.seeds <= 60 * 200) << to_iso(point.sow);
  }
}

}  // namespace
}  // namespace strikebed::nursery
