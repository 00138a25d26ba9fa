// The grower's own profile: what it holds, and that no entry counts twice. On the invented nursery of demo/.
#include "nursery/own_profile.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "daybook/document.hpp"
#include "nursery/forecast.hpp"
#include "nursery/profiles/profile_file.hpp"
#include "shipped.hpp"
#include "tests/file_text.hpp"

namespace strikebed::nursery {
namespace {

const Date kToday = make_date(2026, 6, 28);

daybook::Fold demo_daybook() {
  const auto document = daybook::read_document(file_text(SOURCE_DIR "/demo/three-seasons.json"));
  daybook::Fold fold;
  fold.add(document->entries);
  return fold;
}
/// The shipped library and one profile of the grower's own.
Library library_with(const std::string& own_profile) {
  Library library = shipped_library();
  library.own_file = [own_profile](const std::string& path) -> Result<Text> { return Text{path, own_profile}; };
  return library;
}
DaybookRequest asked_of(const std::string& goal = "") {
  DaybookRequest request{.goal = {}, .weather = {}, .today = kToday};
  request.weather = Text{"weather.csv", file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv")};
  if (!goal.empty()) request.goal = Text{"goal.toml", goal};
  return request;
}
/// The demo's goal of the third season, believing as little of its own as can be.
std::string goal_text(const std::string& rates, const std::string& profile = "") {
  return "species = \"pinus-thunbergii\"\nby = 2026-10-01\n" + profile +
         "[[want]]\nbase_form = \"radial\"\ncount = 60\n[[want]]\nbase_form = \"single-root\"\ncount = 8\n"
         "[place]\nlatitude = 47.6\nlongitude = -122.3\nelevation_m = 20\ntime_zone = \"America/Los_Angeles\"\n"
         "[seedbed]\nair = \"outdoor\"\nat_least = 18\n"
         "[sessions]\nweekdays = [\"Saturday\"]\ncuttings_at_most = 48\n[rates]\n" +
         rates;
}
const std::string kKnownRates = "usable = 0.88\nweaning = 0.88\n";

OwnProfileAnswer own_profile_of(const std::string& goal, daybook::Fold& fold, const Library& library) {
  auto answer = own_profile(asked_of(goal), fold, library);
  EXPECT_TRUE(answer.ok()) << answer.error().problem;
  return std::move(*answer);
}

// Three raw seasons, or the profile of two and the third: the same to the last digit.
TEST(OwnProfile, WithTheLastSeasonForetellsWhatAllSeasonsDo) {
  daybook::Fold fold = demo_daybook();
  const std::string raw = goal_text(kKnownRates);
  const std::string profile = profile_of(own_profile_of(raw, fold, shipped_library()));
  const auto of_raw = forecast(asked_of(raw), fold, shipped_library());
  const auto of_profile =
      forecast(asked_of(goal_text(kKnownRates, "profile = \"own.toml\"\n")), fold, library_with(profile));
  ASSERT_TRUE(of_raw.ok() && of_profile.ok());
  EXPECT_NEAR(of_profile->forecast.assurance, of_raw->forecast.assurance, 1e-6);
  for (std::size_t w = 0; w < 2; ++w) {
    EXPECT_NEAR(of_profile->forecast.wants[w].in_pots, of_raw->forecast.wants[w].in_pots, 1e-6);
    EXPECT_EQ(of_profile->forecast.wants[w].plants.p50, of_raw->forecast.wants[w].plants.p50);
  }
  ASSERT_EQ(of_profile->forecast.learned.size(), of_raw->forecast.learned.size());
  for (std::size_t i = 0; i < of_raw->forecast.learned.size(); ++i) {
    EXPECT_NEAR(of_profile->forecast.learned[i].now.typical / of_raw->forecast.learned[i].now.typical, 1, 1e-6);
  }
  // What was learnt tells: without the past it is another forecast.
  const auto without = forecast(
      asked_of(goal_text(kKnownRates, "profile = \"own.toml\"\n")), fold,
      library_with(
          "[absorbed]\nseasons_until = 2025-10-01\nnoted_before = 2026-06-28\nentries = 0\ndigest = \"none\"\n"));
  ASSERT_TRUE(without.ok());
  EXPECT_GT(std::abs(without->forecast.assurance - of_raw->forecast.assurance), 0.01);
}

// Nothing is absorbed twice, and what the daybook holds otherwise by now is said.
TEST(OwnProfile, AbsorbsNothingTwice) {
  daybook::Fold fold = demo_daybook();
  const std::string raw = goal_text(kKnownRates);
  const OwnProfileAnswer first = own_profile_of(raw, fold, shipped_library());
  const std::string with_profile = goal_text(kKnownRates, "profile = \"own.toml\"\n");
  const OwnProfileAnswer again = own_profile_of(with_profile, fold, library_with(profile_of(first)));
  EXPECT_TRUE(again.remarks.empty());
  EXPECT_EQ(profile_of(again), profile_of(first));
  EXPECT_EQ(again.after.species.ripening_time.counted, first.after.species.ripening_time.counted);

  daybook::Fold less;
  const auto document = daybook::read_document(file_text(SOURCE_DIR "/demo/three-seasons.json"));
  for (std::size_t i = 0; i < document->entries.size(); ++i) {
    if (i != 300) less.add(document->entries[i]);
  }
  const OwnProfileAnswer other = own_profile_of(with_profile, less, library_with(profile_of(first)));
  ASSERT_EQ(other.remarks.size(), 1U);
  EXPECT_NE(other.remarks[0].find("make the profile anew"), std::string::npos);
}

TEST(OwnProfile, NamesHowManyStandBehindEachValue) {
  daybook::Fold fold = demo_daybook();
  const OwnProfileAnswer answer = own_profile_of(goal_text(kKnownRates), fold, shipped_library());
  ASSERT_EQ(answer.past.size(), 2U);
  EXPECT_EQ(answer.past[0].days.until, make_date(2024, 10, 1));
  const growth::Species& species = answer.after.species;
  EXPECT_EQ(species.germination_time.counted, 551 + 545);  // sown: demo/seasons-truth.json
  // Struck: 340 + 24 and 283 + 36, less six lifted ones each, and the controls.
  EXPECT_NEAR(species.rooting_time.counted, 683, 12);
  EXPECT_EQ(species.rates[growth::Rung::usable].counted, 0);  // known exactly
  const auto read = read_own_profile(profile_of(answer), "own.toml",
                                     *read_species(shipped_library().species.at("pinus-thunbergii").text, "shipped"));
  ASSERT_TRUE(read.ok()) << read.error().problem;
  EXPECT_EQ(read->rooting_time.quantity, species.rooting_time.quantity);
  EXPECT_EQ(read->rates[growth::Rung::take].belief, species.rates[growth::Rung::take].belief);
  EXPECT_EQ(read->own->absorbed, species.own->absorbed);
}

// A goal's word stands above a profile's, and that is said.
TEST(OwnProfile, ARateThatTheGoalSaysIsNotThatOfTheProfile) {
  daybook::Fold fold = demo_daybook();
  const OwnProfileAnswer first = own_profile_of(goal_text(kKnownRates), fold, shipped_library());
  const auto answer =
      forecast(asked_of(goal_text(kKnownRates + "take = { low = 0.2, high = 0.5 }\n", "profile = \"own.toml\"\n")),
               fold, library_with(profile_of(first)));
  ASSERT_TRUE(answer.ok());
  const bool said = std::ranges::any_of(answer->remarks, [](const std::string& remark) {
    return remark.starts_with("take is said in the goal: what your profile has learnt of it (");
  });
  EXPECT_TRUE(said);
}

TEST(OwnProfile, WithoutAPastSeasonThereIsNone) {
  daybook::Fold nothing;
  const auto answer = own_profile(asked_of(goal_text(kKnownRates)), nothing, shipped_library());
  ASSERT_FALSE(answer.ok());
  EXPECT_EQ(answer.error().problem, "no season of this daybook is over yet");
}

}  // namespace
}  // namespace strikebed::nursery
