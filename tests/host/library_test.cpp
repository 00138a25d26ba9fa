// Covers  the texts of this machine: profiles and checks from their folders, the grower's own files beside a goal.
// Ref     none needed: texts as they lie on disk, and the messages of library.cpp.
#include "host/library.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>

#include "nursery/goal/goal_file.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::host {
namespace {

namespace fs = std::filesystem;
const Date kToday = make_date(2026, 11, 25);

Result<nursery::GoalFile> read_goal(const std::string& path) {
  const auto goal = read_text(path);
  if (!goal) return goal.error();
  const auto library = load_library_from(SOURCE_DIR "/profiles", path);
  if (!library) return library.error();
  return nursery::parse_goal(goal->text, goal->file, kToday, *library);
}

/// A folder of its own for each test, gone again after it.
class OwnFolder : public ::testing::Test {
 protected:
  void SetUp() override {
    folder_ = fs::temp_directory_path() /
              (std::string("strikebed-library-") + ::testing::UnitTest::GetInstance()->current_test_info()->name());
    fs::create_directories(folder_);
  }
  void TearDown() override { fs::remove_all(folder_); }
  void write(const std::string& name, const std::string& text) const { std::ofstream(folder_ / name) << text; }
  [[nodiscard]] std::string path(const std::string& name) const { return (folder_ / name).string(); }
  fs::path folder_;
};

TEST(Library, HoldsEveryShippedProfileByItsId) {
  const auto library = load_library();
  ASSERT_TRUE(library.ok()) << library.error().message();
  EXPECT_EQ(library->species.size(), 5U);
  EXPECT_EQ(library->methods.size(), 2U);
  EXPECT_EQ(library->materials.size(), 10U);
  EXPECT_EQ(library->feed.size(), 1U);
  EXPECT_EQ(library->methods.at("square-cut").file, SOURCE_DIR "/profiles/methods/square-cut.toml");
  EXPECT_NE(library->feed.at("season").text.find("[[phase]]"), std::string::npos);
}

TEST(Library, KnowsTheTimeZonesOfThisMachine) {
  const auto library = load_library();
  ASSERT_TRUE(library.ok());
  EXPECT_NE(std::ranges::find(library->time_zones, "Europe/Berlin"), library->time_zones.end());
  EXPECT_EQ(std::ranges::find(library->time_zones, "Europe/Nowhere"), library->time_zones.end());
}

TEST(Library, AFolderWithoutProfilesIsNamed) {
  const auto none = load_library_from("/nowhere/at/all");
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.error().message(),
            "/nowhere/at/all/species: no profiles found in this folder; allowed: the folder of shipped profiles");
}

TEST(Library, TheDemoGoalReads) {
  const auto file = read_goal(SOURCE_DIR "/demo/goal.toml");
  ASSERT_TRUE(file.ok()) << file.error().message();
  EXPECT_EQ(file->goal.by, make_date(2027, 10, 1));
  ASSERT_EQ(file->goal.wants.size(), 2U);
  EXPECT_EQ(file->goal.wants[0].count, 60);
  EXPECT_EQ(file->goal.wants[1].count, 8);
  EXPECT_EQ(file->weather_path, "weather/seattle-2012-2015.csv");
  const auto weather = files_beside(SOURCE_DIR "/demo/goal.toml")(*file->weather_path);
  ASSERT_TRUE(weather.ok()) << weather.error().message();
  EXPECT_EQ(weather->file, SOURCE_DIR "/demo/weather/seattle-2012-2015.csv");
}

TEST_F(OwnFolder, FilesBesideTheGoalAreReadFromItsFolder) {
  write("mine.toml", "ripening_time = 390\n");
  write("goal.toml", R"(profile = "mine.toml"
species = "pinus-thunbergii"
by = 2027-10-01
[[want]]
base_form = "radial"
count = 60
[place]
latitude = 47.6
longitude = -122.3
weather = "weather.csv"
)");
  const auto file = read_goal(path("goal.toml"));
  ASSERT_TRUE(file.ok()) << file.error().message();
  EXPECT_EQ(file->goal.species.ripening_time.typical(), 390);
}

TEST_F(OwnFolder, PathsFromTheRootAndFromWhereTheProgramWasStartedStay) {
  write("a.toml", "x = 1");
  EXPECT_EQ(files_beside("elsewhere/goal.toml")(path("a.toml"))->text, "x = 1");
  EXPECT_EQ(files_beside("")("no/such.toml").error().file, "no/such.toml");
  EXPECT_EQ(files_beside("goal.toml")("no/such.toml").error().file, "no/such.toml");
}

TEST_F(OwnFolder, ATomlFileIsNotReadWhenItIsLargerThanOneMayBe) {
  const std::string much(nursery::kLargestTomlFile + 1, '#');
  write("large.toml", much);
  write("large.csv", much);
  EXPECT_EQ(files_beside("")(path("large.toml")).error().message(),
            path("large.toml") + ": this file is too large (1000001 bytes); allowed: at most 1000000 bytes");
  EXPECT_TRUE(files_beside("")(path("large.csv")).ok());
}

TEST_F(OwnFolder, ChecksAreTheDataFilesOfAFolderAndWhatStandsBesideThem) {
  write("b.json", "{}");
  write("a.json", "[]");
  write("numbers.txt", "1 2 3");
  const auto checks = load_checks(folder_.string());
  ASSERT_TRUE(checks.ok()) << checks.error().message();
  ASSERT_EQ(checks->topics.size(), 2U);
  EXPECT_EQ(checks->topics.at("a").text, "[]");
  EXPECT_EQ(checks->topics.at("a").file, path("a.json"));
  EXPECT_EQ(checks->beside("numbers.txt")->text, "1 2 3");
}

TEST(PublishedChecks, AFolderWithoutDataFilesIsNamed) {
  const auto none = load_checks("/nonexistent");
  ASSERT_FALSE(none.ok());
  EXPECT_EQ(none.error().message(),
            "/nonexistent: no published checks found in this folder; allowed: the folder of shipped published checks");
}

}  // namespace
}  // namespace strikebed::host
