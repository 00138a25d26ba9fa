// Covers  reading a goal: what is written, what is left out and said to be, which rate wins, and every bad input with
// its
//         whole message.
// Ref     docs/goal-file.md; dates counted on a calendar.
// Tol     none: the numbers are those written.
#include "nursery/goal/goal_file.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "tests/file_text.hpp"
#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

using growth::Rung;
using season::CountAt;

const Date kToday = make_date(2026, 11, 25);

const Library& shipped() {
  static const Library library = [] {
    Library loaded = shipped_library();
    loaded.own_file = [](const std::string& path) -> Result<Text> {
      if (path == "my-pines.toml") {
        return Text{path, "ripening_time = 400\n[rates]\ngrade = 0.6\ntake = { good = 30, of = 40 }\n"};
      }
      if (path == "short-cut.toml")
        return Text{path, "based_on = \"square-cut\"\nstem_length_mm = 12\nlifted = 0.05\n"};
      if (path == "strong-dip.toml") return Text{path, "based_on = \"square-cut\"\nauxin_ppm = 20000\n"};
      if (path == "bad.toml") return Text{path, "ripening_time = \"slow\"\n"};
      return Error{.problem = "there is no such file", .file = path};
    };
    return loaded;
  }();
  return library;
}

/// A small goal; each test adds to it or changes it. Line 1 is the species.
const std::string kGoal = R"(species = "pinus-thunbergii"
by = 2027-10-01
count_at = "weaned"
assurance = 0.90
[[want]]
base_form = "radial"
count = 60
[place]
latitude = 47.6
longitude = -122.3
elevation_m = 20
time_zone = "America/Los_Angeles"
weather = "weather.csv"
)";

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

GoalFile read(const std::string& text, const GoalOverrides& overrides = {}) {
  auto file = parse_goal(text, "folder/goal.toml", kToday, shipped(), overrides);
  if (!file) {
    ADD_FAILURE() << file.error().message();
    return {};
  }
  return *file;
}

std::vector<std::string> all_refusals(const std::string& text) {
  const auto file = parse_goal(text, "goal.toml", kToday, shipped());
  return file ? std::vector<std::string>{} : file.error().messages();
}

std::string refused(const std::string& text) {
  const auto file = parse_goal(text, "goal.toml", kToday, shipped());
  return file ? "" : file.error().message();
}

bool says(const GoalFile& file, const std::string& sentence) {
  return std::find(file.assumed.begin(), file.assumed.end(), sentence) != file.assumed.end();
}

TEST(GoalFile, WhatIsWrittenIsKept) {
  const GoalFile file = read(kGoal + R"(
[seedbed]
air = "outdoor"
at_least = 18
lit = true
[bench]
fixed = 21
[lot]
chill_days = 30
seeds_per_gram = 80
[rates]
germination = { good = 41, of = 50 }
usable = 0.88
take = { about = 0.65, low = 0.30, high = 0.90 }
[sessions]
weekdays = ["Saturday", "sunday"]
not_on = [2027-05-01, "06-10"]
cuttings_at_most = 48
sowings_at_most = 2
controls = 0.05
lifted = 0.02
[sowing]
not_before = 2027-02-01
[prices]
seed_per_gram = 1.5
hour = 20
)");
  const season::Goal& goal = file.goal;
  EXPECT_EQ(goal.species.id, "pinus-thunbergii");
  EXPECT_EQ(goal.by, make_date(2027, 10, 1));
  EXPECT_EQ(goal.count_at, CountAt::weaned);
  EXPECT_EQ(goal.assurance, 0.9);
  ASSERT_EQ(goal.wants.size(), 1U);
  EXPECT_EQ(goal.wants[0].count, 60);
  EXPECT_EQ(goal.wants[0].method.id, "square-cut");
  EXPECT_EQ(goal.site.longitude_deg, -122.3);
  EXPECT_EQ(file.time_zone, "America/Los_Angeles");
  EXPECT_EQ(file.weather_path, "weather.csv");
  EXPECT_EQ(goal.seedbed.at_least_c, 18);
  EXPECT_TRUE(goal.seedbed_lit);
  EXPECT_EQ(goal.bench.fixed_c, 21);
  EXPECT_EQ(goal.lot.chill_days, 30);
  EXPECT_EQ(goal.lot.seeds_per_gram, 80);
  EXPECT_EQ(std::get<Tested>(goal.rates[Rung::germination].belief).good, 41);
  EXPECT_EQ(goal.rates[Rung::germination].batch_spread, 0.3) << "the profile's";
  EXPECT_EQ(goal.rates[Rung::usable].batch_spread, 0.0) << "known exactly";
  EXPECT_EQ(std::get<Ranged>(goal.wants[0].take.belief).about, 0.65);
  EXPECT_EQ(goal.wants[0].take.batch_spread, 0.5);
  EXPECT_EQ(goal.sessions.weekdays, (std::array<bool, 7>{false, false, false, false, false, true, true}));
  EXPECT_EQ(goal.sessions.not_on, (std::vector<Date>{make_date(2026, 6, 10), make_date(2027, 5, 1),
                                                     make_date(2027, 6, 10), make_date(2028, 6, 10)}));
  EXPECT_EQ(goal.sessions.cuttings_at_most, 48);
  EXPECT_EQ(goal.sessions.sowings_at_most, 2);
  EXPECT_EQ(goal.controls, 0.05);
  EXPECT_EQ(goal.lifted, 0.02);
  EXPECT_EQ(goal.sow_not_before, make_date(2027, 2, 1));
  EXPECT_EQ(goal.prices.seed_per_gram, 1.5);
  EXPECT_EQ(goal.prices.container, std::nullopt);
}

TEST(GoalFile, WhatIsLeftOutIsFilledAndSaid) {
  std::string bare = changed(kGoal, "count_at = \"weaned\"\nassurance = 0.90\n", "");
  bare = changed(bare, "elevation_m = 20\ntime_zone = \"America/Los_Angeles\"\n", "");
  const GoalFile file = read(bare);
  EXPECT_EQ(file.goal.assurance, 0.9);
  EXPECT_EQ(file.goal.lot.chill_days, 45);
  EXPECT_EQ(file.time_zone, "UTC-08:00");
  EXPECT_EQ(file.goal.bench.offset_c, 2);
  EXPECT_EQ(file.goal.bench.at_least_c, 3);
  EXPECT_EQ(file.goal.seedbed.offset_c, 0);
  EXPECT_EQ(file.goal.sessions.cuttings_at_most, std::nullopt);
  for (const char* sentence :
       {"Plants are counted when weaned: count_at is left out.", "90 % sure: assurance is left out.",
        "At sea level: elevation_m is left out.", "Time zone UTC-08:00: by the longitude, without summer time.",
        "45 days of cold, moist chilling before sowing: the profile of Japanese black pine for stored seed.",
        "75 seeds in a gram: the profile of Japanese black pine.",
        "The method \"square-cut\" for radial trees: the one shipped for this base form.",
        "take (radial): 67 (37 to 89) % of the cuttings root; the profile of Japanese black pine, a guess.",
        "germination: 78 (52 to 95) % of the seeds come up; the profile of Japanese black pine, fair.",
        "Seedbed in outdoor air, unheated and unlit: [seedbed] is left out.",
        "Bench in a closed, shaded frame, 2 °C warmer than outdoors and never below 3 °C: [bench] is left out.",
        "The plan chooses how often there is a session, each with room for all that are ready: [sessions] is left "
        "out."}) {
    EXPECT_TRUE(says(file, sentence)) << sentence << "\n" << testing::PrintToString(file.assumed);
  }
  for (const std::string& sentence : file.assumed)
    EXPECT_NE(sentence.find("winter"), 0U) << "this goal ends at weaning";
}

TEST(GoalFile, AYearlyTargetIsTheNextThatLeavesTimeToGrow) {
  // 25 November 2026 + 150 days is 24 April 2027.
  EXPECT_EQ(read(changed(kGoal, "2027-10-01", "\"10-01\"")).goal.by, make_date(2027, 10, 1));
  EXPECT_EQ(read(changed(kGoal, "2027-10-01", "\"04-24\"")).goal.by, make_date(2027, 4, 24));
  EXPECT_EQ(read(changed(kGoal, "2027-10-01", "\"04-23\"")).goal.by, make_date(2028, 4, 23));
}

TEST(GoalFile, ARateOfTheWantWinsOverTheFileOverTheOwnProfileOverTheMethodOverTheSpecies) {
  const std::string single = changed(kGoal, "\"radial\"", "\"single-root\"");
  const auto grade = [](const GoalFile& file) { return file.goal.wants.at(0).grade; };
  EXPECT_EQ(std::get<Ranged>(grade(read(kGoal)).belief).about, 0.775) << "species";
  EXPECT_EQ(std::get<Ranged>(grade(read(single)).belief).about, 0.713) << "method";
  const std::string own = "profile = \"my-pines.toml\"\n" + single;
  EXPECT_EQ(std::get<Known>(grade(read(own)).belief).share, 0.6) << "own profile";
  const std::string general = own + "[rates]\ngrade = 0.7\n";
  EXPECT_EQ(std::get<Known>(grade(read(general)).belief).share, 0.7) << "[rates]";
  EXPECT_EQ(std::get<Known>(grade(read(changed(general, "count = 60", "count = 60\ngrade = 0.8"))).belief).share, 0.8)
      << "want";
  EXPECT_EQ(read(own).goal.species.ripening_time.typical(), 400);
  EXPECT_TRUE(
      says(read(own),
           "Your own profile my-pines.toml sets grade, ripening_time, take; every other value of the species is the "
           "profile's of Japanese black pine (pinus-thunbergii)."));
}

TEST(GoalFile, SeveralWantsAndOwnMethods) {
  const GoalFile file = read(
      kGoal + "[[want]]\nmethod = \"slanting-cut\"\ncount = 8\n[[want]]\nmethod = \"short-cut.toml\"\ncount = 5\n");
  ASSERT_EQ(file.goal.wants.size(), 3U);
  EXPECT_EQ(file.goal.wants[1].base_form, "single-root");
  EXPECT_EQ(file.goal.wants[2].base_form, "radial");
  EXPECT_EQ(file.goal.wants[2].method.stem_length_mm.typical(), 12);
  EXPECT_EQ(file.goal.lifted, 0.05) << "the largest of the wanted methods";
}

// Covers  a take of the profile moves with the dip of one's own method; one that is stated does not.
TEST(GoalFile, AProfilesTakeMovesWithTheDip) {
  const auto take_of = [](const std::string& text) { return std::get<Ranged>(read(text).goal.wants[0].take.belief); };
  const std::string strong = changed(kGoal, "base_form = \"radial\"", "method = \"strong-dip.toml\"");
  EXPECT_LT(*take_of(strong).about, *take_of(kGoal).about) << "20,000 ppm burns";
  const std::string stated = "[rates]\ntake = { about = 0.6, low = 0.4, high = 0.8 }\n";
  EXPECT_EQ(*take_of(strong + stated).about, 0.6);
}

TEST(GoalFile, HoursBecomeCuttingsOfTheSlowestMethod) {
  // Square cut: (60 + 60 + 120) s / 4 = 60 s a cutting; slanting cut: (80 + 60 + 140) s / 4 = 70 s.
  const std::string hours = "[sessions]\nhours_at_most = 1\n";
  EXPECT_EQ(read(kGoal + hours).goal.sessions.cuttings_at_most, 60);
  EXPECT_EQ(read(kGoal + "[[want]]\nbase_form = \"single-root\"\ncount = 8\n" + hours).goal.sessions.cuttings_at_most,
            51);
}

// Covers  a stock becomes one filling at the method's strength, and what is to be said of it.
TEST(GoalFile, AStockIsMixedForEveryWant) {
  const GoalFile file =
      read(kGoal + std::string("[solution]\nfrom = \"1 % IBA + 0.5 % NAA\"\nsolvent = \"alcohol\"\n"));
  ASSERT_TRUE(file.goal.wants[0].dip.has_value());
  EXPECT_EQ(file.goal.wants[0].dip->target->number, file.goal.wants[0].method.auxin_ppm.typical());
  const auto remark = [](const GoalFile& read_file, std::string_view words) {
    return std::ranges::count_if(read_file.remarks, [&](const std::string& told) {
      return told.starts_with("Rooting solution, 650 ppm: ") && told.find(words) != std::string::npos;
    });
  };
  EXPECT_EQ(remark(file, "more than plain water dissolves"), 1);
  EXPECT_EQ(remark(file, "Drops are not calibrated"), 1);
  const GoalFile two_wants = read(kGoal + std::string("[[want]]\nbase_form = \"single-root\"\ncount = 8\n") +
                                  "[solution]\nfrom = \"1 % IBA + 0.5 % NAA\"\nsolvent = \"alcohol\"\n");
  EXPECT_EQ(remark(two_wants, "Drops are not calibrated"), 1) << "once, not for each want";
  EXPECT_FALSE(read(kGoal).goal.wants[0].dip.has_value());
}

TEST(GoalFile, FreshSeedNeedsNoChilling) {
  const GoalFile file = read(kGoal + "[lot]\nfresh = true\n");
  EXPECT_EQ(file.goal.lot.chill_days, 0);
  EXPECT_EQ(file.goal.full_chilling(file.goal.lot), 0) << "and is not slowed for want of it";
  EXPECT_TRUE(says(file, "No chilling before sowing: the lot is fresh."));
}

const std::string kLots = R"(
[rates]
germination = { good = 30, of = 60 }
[[lot]]
name = "old tree"
germination = { good = 41, of = 50 }
sow_on = 2026-11-01
seeds = 150
[[lot]]
name = "exchange"
chill_days = 60
seeds_per_gram = 50
sow_on = "03-10"
seeds = 80
[[lot]]
name = "new"
fresh = true
[[lot]]
name = "old tree"
chill_days = 20
sow_on = 2027-03-20
seeds = 40
)";

TEST(GoalFile, LotsAreSownAsSaidAndOneOnTop) {
  const GoalFile file = read(kGoal + kLots);
  const season::Goal& goal = file.goal;
  EXPECT_EQ(goal.lot.name, "new");
  EXPECT_TRUE(goal.lot.fresh);
  EXPECT_EQ(goal.lot.chill_days, 0);
  EXPECT_EQ(std::get<Tested>(goal.rates[Rung::germination].belief).good, 30) << "[rates], as it has none of its own";
  ASSERT_EQ(goal.sown.size(), 3U);
  EXPECT_EQ(goal.sown[0].on, make_date(2026, 11, 1));
  EXPECT_EQ(goal.sown[0].seeds, 150);
  EXPECT_EQ(goal.sown[0].lot.name, "old tree");
  EXPECT_EQ(goal.sown[0].lot.chill_days, 45);
  EXPECT_EQ(std::get<Tested>(goal.sown[0].germination.belief).good, 41);
  EXPECT_EQ(goal.sown[0].germination.batch_spread, 0.3) << "the profile's";
  EXPECT_EQ(goal.sown[1].on, make_date(2027, 3, 10)) << "the next such day";
  EXPECT_EQ(goal.sown[1].lot.chill_days, 60);
  EXPECT_EQ(goal.seeds_per_gram(goal.sown[1].lot), 50);
  EXPECT_EQ(std::get<Tested>(goal.sown[1].germination.belief).good, 30);
  EXPECT_EQ(goal.sown[2].lot.chill_days, 20) << "its own, for this sowing";
  EXPECT_EQ(std::get<Tested>(goal.sown[2].germination.belief).good, 41) << "said once of the lot";
  EXPECT_EQ(goal.full_chilling(goal.lot), 0);
  EXPECT_EQ(goal.full_chilling(goal.sown[1].lot), 45);
  for (const char* sentence :
       {"Lot old tree: 45 days of cold, moist chilling before sowing: the profile of Japanese black pine for stored "
        "seed.",
        "Lots old tree and new: 75 seeds in a gram: the profile of Japanese black pine.",
        "Lot new: No chilling before sowing: the lot is fresh.",
        "Lot old tree, sown on Sun 1 Nov 2026: how many are up is not used yet.",
        "Germination in [rates] is believed of lots new and exchange, of each by itself: no test of their own is "
        "given.",
        "How much batches differ in germination (lot new), germination (lot old tree), germination (lot exchange): the "
        "profile of Japanese black pine."}) {
    EXPECT_TRUE(says(file, sentence)) << sentence << "\n" << testing::PrintToString(file.assumed);
  }
}

TEST(GoalFile, OneLotIsTheSameInEitherForm) {
  const std::string keys = "chill_days = 30\ngermination = { good = 41, of = 50 }\nseeds_per_gram = 80\n";
  const std::string in_rates =
      "[lot]\nchill_days = 30\nseeds_per_gram = 80\n[rates]\ngermination = { good = 41, of = "
      "50 }\n";
  const GoalFile one = read(kGoal + "[lot]\n" + keys);
  for (const std::string& other : {"[[lot]]\n" + keys, in_rates}) {
    const GoalFile same = read(kGoal + other);
    EXPECT_EQ(one.goal.lot, same.goal.lot);
    EXPECT_EQ(one.goal.rates, same.goal.rates);
    EXPECT_TRUE(same.goal.sown.empty());
    EXPECT_EQ(one.assumed, same.assumed);
  }
}

// Where each has its own day, what comes on top is of the first; what is one lot on one day is one sowing.
TEST(GoalFile, LotsMayAllHaveTheirOwnDay) {
  const auto lot = [](const char* name, const char* more) {
    return std::string("[[lot]]\nname = \"") + name + "\"\nsow_on = 2027-03-10\nseeds = 70\n" + more;
  };
  const GoalFile file = read(kGoal + lot("a", "chill_days = 30\n") + lot("b", "") + lot("a", ""));
  ASSERT_EQ(file.goal.sown.size(), 2U);
  EXPECT_EQ(file.goal.sown[0].seeds, 140);
  EXPECT_EQ(file.goal.sown[1].seeds, 70);
  EXPECT_EQ(file.goal.lot.name, "a");
  EXPECT_EQ(file.goal.lot.chill_days, 30);
  EXPECT_TRUE(
      says(file,
           "What is sown on top is of lot a: each of the lots has its own sow_on, and of none more of the seeds "
           "come up."));
  const GoalFile poor = read(kGoal + lot("a", "germination = { good = 2, of = 50 }\n") + lot("b", "chill_days = 20\n"));
  EXPECT_EQ(poor.goal.lot.name, "b");
  EXPECT_EQ(poor.goal.lot.chill_days, 20);
  EXPECT_EQ(poor.goal.rates[Rung::germination], poor.goal.sown[1].germination);
  const GoalFile alone = read(kGoal + "[lot]\nsow_on = 2027-03-10\nseeds = 70\n");
  EXPECT_EQ(alone.goal.sown.size(), 1U);
  EXPECT_EQ(alone.goal.sown[0].lot, alone.goal.lot);
}

TEST(GoalFile, WintersFollowTheHemisphereAndTheTarget) {
  const GoalFile north = read(changed(changed(kGoal, "\"weaned\"", "\"established\""), "2027-10-01", "2028-04-15"));
  EXPECT_EQ(north.goal.winter_starts, make_date(2027, 11, 1));
  EXPECT_EQ(north.goal.winter_ends, make_date(2028, 4, 1));
  EXPECT_TRUE(says(north, "Winter from Mon 1 Nov 2027 to Sat 1 Apr 2028: usual in the northern half of the world."));
  const GoalFile south = read(changed(changed(kGoal, "47.6", "-36.8"), "2027-10-01", "2028-05-01"));
  EXPECT_EQ(south.goal.winter_starts, make_date(2027, 5, 1));
  EXPECT_EQ(south.goal.winter_ends, make_date(2027, 10, 1));
  const GoalFile own = read(kGoal + "winter_starts = \"12-15\"\nwinter_ends = \"03-01\"\n");
  EXPECT_EQ(own.goal.winter_starts, make_date(2026, 12, 15));
  EXPECT_EQ(own.goal.winter_ends, make_date(2027, 3, 1));
}

TEST(GoalFile, NormalsStandInForARecord) {
  const std::string normals = R"([place.normals]
tmin = [2, 2, 3, 5, 8, 11, 13, 13, 11, 7, 4, 2]
tmax = [8, 10, 12, 15, 18, 21, 25, 25, 22, 16, 11, 8]
tmin_sd = [3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]
tmax_sd = [3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]
)";
  const GoalFile file = read(changed(kGoal, "weather = \"weather.csv\"\n", normals));
  ASSERT_TRUE(file.normals);
  EXPECT_EQ(file.normals->tmax_c[6], 25);
  EXPECT_EQ(file.weather_path, std::nullopt);
  GoalOverrides overrides;
  const Text other{"other.csv", ""};
  overrides.other_weather = &other;
  overrides.seeds_in_hand = 500;
  const GoalFile overridden = read(changed(kGoal, "weather = \"weather.csv\"\n", normals), overrides);
  EXPECT_EQ(overridden.weather_path, std::nullopt);
  EXPECT_FALSE(overridden.normals);
  EXPECT_EQ(overridden.goal.seeds_in_hand, 500);
}

// Ref  the rule of docs/methods/weather-futures.md by hand: the warmest month's mean is 19 °C, January's 5 °C, so that
//      its minima differ by 1.7 + 0.12 * 14 = 3.38 °C about the day's mean, July's by 1.7; the drift within these
//      months, 0.054 and 0.344 °C by a numpy script of the same page, on top.
TEST(GoalFile, NormalsMayLeaveOutHowMuchDaysDifferAndMayHoldRain) {
  const GoalFile file = read(changed(kGoal, "weather = \"weather.csv\"\n", R"([place.normals]
tmin = [2, 2, 3, 5, 8, 11, 13, 13, 11, 7, 4, 2]
tmax = [8, 10, 12, 15, 18, 21, 25, 25, 22, 16, 11, 8]
tmax_sd = [3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3, 3]
rain = [140, 90, 90, 70, 50, 40, 20, 20, 40, 90, 160, 140]
)"));
  ASSERT_TRUE(file.normals);
  EXPECT_NEAR(file.normals->tmin_sd_c[0], 3.3804240, 1e-6);
  EXPECT_NEAR(file.normals->tmin_sd_c[6], 1.7343626, 1e-6);
  EXPECT_EQ(file.normals->tmax_sd_c[0], 3);
  EXPECT_TRUE(says(file,
                   "How much single days differ from the month's mean (tmin_sd is left out): as at two places with "
                   "records, more in colder months; a guess."));
  EXPECT_TRUE(says(file, "The rain in [place.normals] is read and not used: a plan needs the temperatures alone."));
}

TEST(GoalFile, TheHottestAndTheColdestMonthMayStandForTheYear) {
  const auto with = [](const std::string& normals, const std::string& latitude = "47.6") {
    return read(changed(changed(kGoal, "weather = \"weather.csv\"\n", "[place.normals]\n" + normals), "latitude = 47.6",
                        "latitude = " + latitude));
  };
  const std::string two = "hottest = { tmin = 13, tmax = 25 }\ncoldest = { tmin = 2, tmax = 8 }\n";
  const GoalFile north = with(two);
  ASSERT_TRUE(north.normals);
  EXPECT_EQ(north.normals->tmax_c[6], 25);
  EXPECT_EQ(north.normals->tmin_c[0], 2);
  EXPECT_GT(north.normals->season_error_c, 1);
  EXPECT_TRUE(
      says(north,
           "Weather by the hottest and the coldest month alone (July and January): the others lie on half a wave "
           "between them, which misses the mean of a season by 1.2 °C or so (a guess). Twelve months or a record "
           "would make this plan surer."));
  EXPECT_EQ(with(two, "-47.6").normals->tmax_c[0], 25) << "January is the hottest in the south";
  EXPECT_EQ(with("hottest = { month = \"August\", tmin = 13, tmax = 25 }\ncoldest = { tmin = 2, tmax = 8 }\n")
                .normals->tmax_c[7],
            25);
}

TEST(GoalFile, TimeZonesMayBeOffsets) {
  for (const auto& [written, read_as] : std::vector<std::pair<std::string, std::string>>{{"+01:00", "UTC+01:00"},
                                                                                         {"+1", "UTC+01:00"},
                                                                                         {"UTC+1", "UTC+01:00"},
                                                                                         {"utc -8", "UTC-08:00"},
                                                                                         {"GMT+0530", "UTC+05:30"},
                                                                                         {"Z", "UTC+00:00"},
                                                                                         {"UTC", "UTC"}}) {
    EXPECT_EQ(read(changed(kGoal, "America/Los_Angeles", written)).time_zone, read_as) << written;
  }
}

struct BadGoal {
  const char* name;
  const char* from;  ///< text of kGoal replaced; "+": added at its end
  const char* to;
  const char* message;
};
void PrintTo(const BadGoal& bad, std::ostream* out) { *out << bad.name; }
class GoalFileBad : public ::testing::TestWithParam<BadGoal> {};

TEST_P(GoalFileBad, EndsInOneClearMessage) {
  const BadGoal& bad = GetParam();
  const std::string text = std::string(bad.from) == "+" ? kGoal + bad.to : changed(kGoal, bad.from, bad.to);
  EXPECT_EQ(all_refusals(text), (std::vector<std::string>{bad.message})) << "nothing that only follows from it";
}

TEST(GoalFile, AllThatIsWrongIsSaidAtOnce) {
  std::string text = changed(kGoal, "by = 2027-10-01", "by = 2020-10-01\nprofile = \"bad.toml\"");
  text = changed(text, "assurance = 0.90", "assurance = 85");
  text = changed(text, "longitude", "lontigude");
  text += "[sowing]\nnot_before = 2027-02-01\n[sessions]\nweekdays = [\"Sat\"]\n";
  EXPECT_EQ(
      all_refusals(text),
      (std::vector<std::string>{
          "goal.toml:11: place.lontigude: unknown key (did you mean \"longitude\"?); allowed: \"elevation_m\", "
          "\"latitude\", \"longitude\", \"normals\", \"time_zone\", \"weather\", \"winter_ends\" or "
          "\"winter_starts\"",
          "goal.toml:2: by: found 2020-10-01, which is not after today, 2026-11-25; allowed: a date from 2026-11-26 "
          "to 2028-11-24",
          "goal.toml:5: assurance: found 85 (did you mean 0.85?); allowed: a number above 0 and below 1 (a share: "
          "0.90 is 90 % sure)",
          "goal.toml:18: sessions.weekdays: found \"Sat\" (did you mean \"Saturday\"?); allowed: \"Monday\", "
          "\"Tuesday\", \"Wednesday\", \"Thursday\", \"Friday\", \"Saturday\" or \"Sunday\"",
          "bad.toml:1: ripening_time: found \"slow\"; allowed: a number from 1 to 10000 (°C d)"}));
}

INSTANTIATE_TEST_SUITE_P(
    Each, GoalFileBad,
    ::testing::Values(
        BadGoal{"latitude", "47.6", "95",
                "goal.toml:9: place.latitude: found 95; allowed: a number from -90 to 90 (degrees, south negative)"},
        BadGoal{
            "longitude", "-122.3", "200",
            "goal.toml:10: place.longitude: found 200; allowed: a number from -180 to 180 (degrees, west negative)"},
        BadGoal{"rate_above_1", "+", "[rates]\nusable = 1.2\n",
                "goal.toml:15: rates.usable: found 1.2; allowed: a number from 0 to 1 (a share: 0.88 is 88 %)"},
        BadGoal{"low_above_high", "+", "[rates]\ntake = { low = 0.9, high = 0.3 }\n",
                "goal.toml:15: rates.take.low: found low 0.9 and high 0.3; allowed: low below high"},
        BadGoal{"assurance_1", "0.90", "1",
                "goal.toml:4: assurance: found 1; allowed: a number above 0 and below 1 (a share: 0.90 is 90 % sure)"},
        BadGoal{"assurance_0", "0.90", "0.0",
                "goal.toml:4: assurance: found 0; allowed: a number above 0 and below 1 (a share: 0.90 is 90 % sure)"},
        BadGoal{"zero_seeds_per_gram", "+", "[lot]\nseeds_per_gram = 0\n",
                "goal.toml:15: lot.seeds_per_gram: found 0; allowed: a number from 0.1 to 100000 (seeds in a "
                "gram)"},
        BadGoal{"lot_day_without_seeds", "+", "[lot]\nsow_on = 2027-03-10\n",
                "goal.toml:15: lot.sow_on: found without seeds; allowed: both, where it is sown on a day of your own; "
                "neither, where the plan is to say"},
        BadGoal{"lot_seeds_without_day", "+", "[lot]\nseeds = 100\n",
                "goal.toml:15: lot.seeds: found without sow_on; allowed: both, where it is sown on a day of your own; "
                "neither, where the plan is to say"},
        BadGoal{"lot_sown_too_late", "+", "[lot]\nsow_on = 2027-10-01\nseeds = 100\n",
                "goal.toml:15: lot.sow_on: found 2027-10-01 with today 2026-11-25 and by 2027-10-01; allowed: a date "
                "from 270 days before today to the day before `by`"},
        BadGoal{"lot_sown_too_long_ago", "+", "[lot]\nsow_on = 2026-02-01\nseeds = 100\n",
                "goal.toml:15: lot.sow_on: found 2026-02-01 with today 2026-11-25 and by 2027-10-01; allowed: a date "
                "from 270 days before today to the day before `by`"},
        BadGoal{"lot_of_no_seeds", "+", "[lot]\nsow_on = 2027-03-10\nseeds = 0\n",
                "goal.toml:16: lot.seeds: found 0; allowed: a whole number from 1 to 1000000"},
        BadGoal{"lots_without_names", "+", "[[lot]]\nname = \"a\"\n[[lot]]\nsow_on = 2027-03-10\nseeds = 5\n",
                "goal.toml:16: lot[2].name: is missing; allowed: a name, such as \"from the old tree\": there are "
                "several lots"},
        BadGoal{
            "two_lots_to_plan_from", "+", "[[lot]]\nname = \"a\"\n[[lot]]\nname = \"b\"\n",
            "goal.toml:16: lot[2]: a second lot without sow_on and seeds; allowed: one at most: it is what the plan "
            "sows from"},
        BadGoal{"one_name_two_tests", "+",
                "[[lot]]\nname = \"a\"\ngermination = 0.8\n[[lot]]\nname = \"a\"\ngermination = 0.7\nsow_on = "
                "2027-03-10\nseeds = 5\n",
                "goal.toml:19: lot[2].germination: found other than in the table before of lot \"a\"; allowed: the "
                "same, or another name: it is another lot"},
        BadGoal{"lot_of_blanks", "+", "[lot]\nname = \"  \"\n",
                "goal.toml:15: lot.name: found blanks alone; allowed: a name"},
        BadGoal{"lot_germination_above_1", "+", "[lot]\ngermination = 1.5\n",
                "goal.toml:15: lot.germination: found 1.5; allowed: a number from 0 to 1 (a share: 0.88 is 88 %)"},
        BadGoal{"lot_no_table", "+", "lot = 5\n",
                "goal.toml:14: place.lot: unknown key; allowed: \"elevation_m\", "
                "\"latitude\", \"longitude\", \"normals\", \"time_zone\", \"weather\", \"winter_ends\" or "
                "\"winter_starts\""},
        BadGoal{"stock_too_weak", "+", "[solution]\nfrom = \"100 ppm IBA\"\n",
                "goal.toml:15: solution.from: found \"100 ppm IBA\", but the target, 650 ppm total auxin as IBA, is "
                "not weaker than the stock, 100 ppm total auxin as IBA; allowed: a liquid or powder stronger than the "
                "650 ppm of the method \"square-cut\""},
        BadGoal{"stock_of_nothing", "+", "[solution]\nfrom = \"1 % sugar\"\n",
                "goal.toml:15: solution.from: the auxin \"sugar\" is not known; allowed: IBA, K-IBA, NAA or K-NAA"},
        BadGoal{"stock_left_out", "+", "[solution]\nsolvent = \"alcohol\"\n",
                "goal.toml:14: solution.from: is missing; allowed: a stock such as \"1 % IBA + 0.5 % NAA\" or \"K-IBA "
                "powder\""},
        BadGoal{"solvent_unknown", "+", "[solution]\nfrom = \"1 % IBA\"\nsolvent = \"oil\"\n",
                "goal.toml:16: solution.solvent: the solvent \"oil\" is not known; allowed: water, alcohol, ethanol or "
                "isopropyl, each alcohol with its share if known: 50 % ethanol"},
        BadGoal{"cap_0", "+", "[sessions]\ncuttings_at_most = 0\n",
                "goal.toml:15: sessions.cuttings_at_most: found 0; allowed: a whole number from 1 to 1000000"},
        BadGoal{"two_caps", "+", "[sessions]\ncuttings_at_most = 9\nhours_at_most = 2\n",
                "goal.toml:16: sessions.hours_at_most: found beside cuttings_at_most; allowed: one of the two"},
        BadGoal{"too_few_hours", "+", "[sessions]\nhours_at_most = 0.01\n",
                "goal.toml:15: sessions.hours_at_most: found 0.01; allowed: at least the 60 seconds that one cutting "
                "takes"},
        BadGoal{"by_in_the_past", "2027-10-01", "2026-10-01",
                "goal.toml:2: by: found 2026-10-01, which is not after today, 2026-11-25; allowed: a date from "
                "2026-11-26 to "
                "2028-11-24"},
        BadGoal{"by_too_far", "2027-10-01", "2037-10-01",
                "goal.toml:2: by: found 2037-10-01, more than two years from today, 2026-11-25; allowed: a date from "
                "2026-11-26 to 2028-11-24"},
        BadGoal{"by_no_date", "2027-10-01", "\"October\"",
                "goal.toml:2: by: found \"October\"; allowed: a date such as 2027-10-01, or a month and day such as "
                "\"10-01\""},
        BadGoal{"by_missing", "by = 2027-10-01\n", "",
                "goal.toml: by: is missing; allowed: a date such as 2027-10-01, or a month and day such as \"10-01\""},
        BadGoal{"sown_too_long_ago", "+", "[sowing]\non = 2026-01-01\n",
                "goal.toml:15: sowing.on: found 2026-01-01 with today 2026-11-25 and by 2027-10-01; allowed: a date "
                "from 270 days before today to the day before `by`"},
        BadGoal{"sow_too_late", "+", "[sowing]\nnot_before = 2027-10-01\n",
                "goal.toml:15: sowing.not_before: found 2027-10-01 with by 2027-10-01; allowed: a date before `by`"},
        BadGoal{
            "species", "pinus-thunbergii", "pinus-thunbergi",
            "goal.toml:1: species: found \"pinus-thunbergi\" (did you mean \"pinus-thunbergii\"?); allowed: "
            "\"pinus-densiflora\", \"pinus-mugo\", \"pinus-parviflora\", \"pinus-sylvestris\" or \"pinus-thunbergii\""},
        BadGoal{"method", "count = 60", "count = 60\nmethod = \"squar-cut\"",
                "goal.toml:8: want[1].method: found \"squar-cut\" (did you mean \"square-cut\"?); allowed: "
                "\"slanting-cut\" or "
                "\"square-cut\", or a file such as \"my-cut.toml\""},
        BadGoal{"method_file", "count = 60", "count = 60\nmethod = \"my-cut.toml\"",
                "goal.toml:8: want[1].method: found \"my-cut.toml\", but there is no such file; allowed: the name of a "
                "file "
                "beside the goal file"},
        BadGoal{
            "method_of_another_form", "count = 60", "count = 60\nmethod = \"slanting-cut\"",
            "goal.toml:6: want[1].base_form: found \"radial\", but the method \"slanting-cut\" gives \"single-root\"; "
            "allowed: \"single-root\", or another method"},
        BadGoal{"base_form", "\"radial\"", "\"radal\"",
                "goal.toml:6: want[1].base_form: found \"radal\" (did you mean \"radial\"?); allowed: \"radial\" or "
                "\"single-root\""},
        BadGoal{"no_base_form", "base_form = \"radial\"\n", "",
                "goal.toml:5: want[1].base_form: is missing; allowed: \"radial\" or \"single-root\""},
        BadGoal{"weekday", "+", "[sessions]\nweekdays = [\"Saturday\", \"Sundy\"]\n",
                "goal.toml:15: sessions.weekdays: found \"Sundy\" (did you mean \"Sunday\"?); allowed: \"Monday\", "
                "\"Tuesday\", "
                "\"Wednesday\", \"Thursday\", \"Friday\", \"Saturday\" or \"Sunday\""},
        BadGoal{"weekdays_and_dates", "+", "[sessions]\nweekdays = [\"Saturday\"]\ndates = [2027-06-01]\n",
                "goal.toml:16: sessions.dates: found beside weekdays; allowed: one of the two"},
        BadGoal{"dates_all_past", "+", "[sessions]\ndates = [2026-06-01]\n",
                "goal.toml:15: sessions.dates: found no date that is still to come; allowed: one or more dates from "
                "2026-11-25 "
                "on"},
        BadGoal{"count_0", "count = 60", "count = 0",
                "goal.toml:7: want[1].count: found 0; allowed: a whole number from 1 to 1000000"},
        BadGoal{"count_missing", "count = 60\n", "",
                "goal.toml:5: want[1].count: is missing; allowed: how many plants are wanted"},
        BadGoal{"same_want_twice", "+", "[[want]]\nbase_form = \"radial\"\ncount = 5\n",
                "goal.toml:14: want[2]: a second want of radial trees by the method \"square-cut\"; allowed: one want "
                "for each "
                "base form and method: add their counts"},
        BadGoal{"unknown_key", "assurance", "asurance",
                "goal.toml:4: asurance: unknown key (did you mean \"assurance\"?); allowed: \"assurance\", \"bench\", "
                "\"by\", "
                "\"count_at\", \"lot\", \"method\", \"place\", \"prices\", \"profile\", \"rates\", \"seedbed\", "
                "\"sessions\", "
                "\"solution\", \"sowing\", \"species\", \"want\" or \"weather\""},
        BadGoal{"wrong_type", "count = 60", "count = \"sixty\"",
                "goal.toml:7: want[1].count: found \"sixty\"; allowed: a whole number from 1 to 1000000"},
        BadGoal{
            "no_weather", "weather = \"weather.csv\"\n", "",
            "goal.toml:8: place.weather: is missing; allowed: the name of a weather file, or a table [place.normals]"},
        BadGoal{"weather_and_normals", "+",
                "[place.normals]\ntmin = [1,1,1,1,1,1,1,1,1,1,1,1]\ntmax = [5,5,5,5,5,5,5,5,5,5,5,5]\n"
                "tmin_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\ntmax_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\n",
                "goal.toml:13: place.weather: found beside normals; allowed: a weather file or [place.normals], one of "
                "the two"},
        BadGoal{"normals_of_11", "weather = \"weather.csv\"\n",
                "[place.normals]\ntmin = [1,1,1,1,1,1,1,1,1,1,1]\ntmax = [5,5,5,5,5,5,5,5,5,5,5,5]\n"
                "tmin_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\ntmax_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\n",
                "goal.toml:14: place.normals.tmin: found a list of 11; allowed: a list of 12 numbers, each a number "
                "from -60 to 50 (°C; 68 °F is 20 °C)"},
        BadGoal{"tmin_above_tmax", "weather = \"weather.csv\"\n",
                "[place.normals]\ntmin = [1,1,1,1,1,1,1,9,1,1,1,1]\ntmax = [5,5,5,5,5,5,5,5,5,5,5,5]\n"
                "tmin_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\ntmax_sd = [3,3,3,3,3,3,3,3,3,3,3,3]\n",
                "goal.toml:14: place.normals.tmin: found 9 for August, above its tmax 5; allowed: tmin at most tmax in "
                "every "
                "month"},
        BadGoal{"time_zone", "Los_Angeles", "Los_Angles",
                "goal.toml:12: place.time_zone: found \"America/Los_Angles\" (did you mean \"America/Los_Angeles\"?); "
                "allowed: a "
                "name of the time-zone database, such as \"Europe/Berlin\", or an offset from UTC, such as \"+01:00\""},
        BadGoal{"time_zone_offset", "America/Los_Angeles", "UTC+15",
                "goal.toml:12: place.time_zone: found \"UTC+15\"; allowed: an offset from -12:00 to +14:00"},
        BadGoal{"fixed_and_heated", "+", "[seedbed]\nfixed = 21\nat_least = 18\n",
                "goal.toml:15: seedbed.fixed: found beside offset or at_least; allowed: fixed alone, or offset and "
                "at_least"},
        BadGoal{"fixed_without_a_number", "+", "[bench]\nair = \"fixed\"\n",
                "goal.toml:14: bench.fixed: is missing; allowed: a number from -10 to 45 (°C)"},
        BadGoal{
            "air", "+", "[bench]\nair = \"outdor\"\n",
            "goal.toml:15: bench.air: found \"outdor\" (did you mean \"outdoor\"?); allowed: \"outdoor\" or \"fixed\""},
        BadGoal{"all_used_up", "+", "[sessions]\ncontrols = 0.5\nlifted = 0.5\n",
                "goal.toml:14: sessions: controls 0.5 and lifted 0.5 leave too few to count; allowed: together at most "
                "0.9"},
        BadGoal{"own_profile_missing", "by =", "profile = \"mine.toml\"\nby =",
                "goal.toml:2: profile: found \"mine.toml\", but there is no such file; allowed: the name of a file "
                "beside the "
                "goal file"},
        BadGoal{"own_profile_bad", "by =", "profile = \"bad.toml\"\nby =",
                "bad.toml:1: ripening_time: found \"slow\"; allowed: a number from 1 to 10000 (°C d)"},
        BadGoal{"winter_of_one_day", "+", "winter_starts = \"04-01\"\n",
                "goal.toml:8: place.winter_ends: found the day on which winter starts; allowed: another day"},
        BadGoal{"malformed", "by = 2027-10-01", "by = 2027-13-01",
                "goal.toml:2:13: this is not TOML: date: expected month between 1 and 12 (inclusive), saw 13; allowed: "
                "key = "
                "value lines under [table] headings (TOML 1.0)"}),
    [](const auto& bad) { return std::string(bad.param.name); });

TEST(GoalFile, AnEmptyFileAndNoiseEndInAMessage) {
  EXPECT_EQ(refused(""), "goal.toml: the file is empty; allowed: key = value lines under [table] headings (TOML 1.0)");
  EXPECT_NE(refused(std::string("\x7f\x45\x4c\x46\x02\x00\x01", 7)), "");
}

/// The fenced blocks of TOML in a page of the manual.
std::vector<std::string> toml_blocks(const std::string& page) {
  std::istringstream file(file_text(page));
  std::vector<std::string> blocks;
  bool inside = false;
  for (std::string line; std::getline(file, line);) {
    if (line.starts_with("```")) {
      inside = line.starts_with("```toml");
      if (inside) blocks.emplace_back();
    } else if (inside) {
      blocks.back() += line + "\n";
    }
  }
  return blocks;
}

TEST(GoalFile, TheExamplesOfTheManualRead) {
  const auto goals = toml_blocks(SOURCE_DIR "/docs/goal-file.md");
  ASSERT_EQ(goals.size(), 4U) << "smallest, everything, normals, lots";
  EXPECT_EQ(read(goals[0]).goal.wants.at(0).count, 60);
  const season::Goal all = read(goals[1]).goal;
  EXPECT_EQ(all.count_at, CountAt::established);
  EXPECT_EQ(all.rates[Rung::weaning].batch_spread, 0.3);
  EXPECT_TRUE(read(changed(goals[0], "weather = \"weather.csv\"\n", goals[2])).normals);
  EXPECT_EQ(read(goals[0] + goals[3]).goal.sown.size(), 2U);

  const auto profiles = toml_blocks(SOURCE_DIR "/docs/profiles.md");
  ASSERT_EQ(profiles.size(), 4U) << "one value, own profile, learnt profile, own method";
  const auto own = read_own_profile(profiles[0], "a.toml", read(kGoal).goal.species);
  EXPECT_TRUE(own.ok()) << own.error().message();
  const auto species = read_own_profile(profiles[1], "a.toml", read(kGoal).goal.species);
  EXPECT_TRUE(species.ok()) << species.error().message();
  const auto learnt = read_own_profile(profiles[2], "a.toml", read(kGoal).goal.species);
  ASSERT_TRUE(learnt.ok()) << learnt.error().message();
  EXPECT_EQ(learnt->own->absorbed->entries, 965);
  EXPECT_EQ(learnt->rooting_time.counted, 683);
  EXPECT_EQ(learnt->method_rates.at("slanting-cut")[Rung::grade]->counted, 53);
  const auto method = read_method(profiles[3], "a.toml", shipped());
  EXPECT_TRUE(method.ok()) << method.error().message();
}

}  // namespace
}  // namespace strikebed::nursery
