// Covers  what no file may do to the engine: a range that has no Beta is refused wherever a rate can be written, with
//         file, line, field, what was found and what is allowed; and whatever is allowed, at the ends of every number
//         of a profile, a method and a goal, goes the whole way from its text to a chance between 0 and 1.
// Ref     the limits that the messages and docs/profiles.md name.
// Tol     none.
#include <fmt/format.h>
#include <fmt/ranges.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>

#include "nursery/goal/goal_file.hpp"
#include "tests/nursery/shipped.hpp"
#include "tests/nursery/small_season.hpp"

namespace strikebed::nursery {
namespace {

const std::string kGoal = R"(species = "pinus-thunbergii"
by = 2027-10-01
profile = "own.toml"
method = "cut.toml"
[[want]]
count = 60
[place]
latitude = 47.6
longitude = -122.3
weather = "weather.csv"
)";
const std::string kProfile = "chill_days = 30\n";
const std::string kMethod = "based_on = \"square-cut\"\n";
constexpr std::array<std::string_view, 7> kRates{"germination", "standing", "usable", "take",
                                                 "weaning",     "winter",   "grade"};

struct Files {
  std::string goal = kGoal;
  std::string profile = kProfile;
  std::string method = kMethod;
};

Result<GoalFile> read(const Files& files) {
  Library library = shipped_library();
  library.own_file = [&](const std::string& path) -> Result<Text> {
    return Text{path, path == "own.toml" ? files.profile : files.method};
  };
  return parse_goal(files.goal, "goal.toml", make_date(2026, 11, 25), library);
}

std::vector<std::string> refusals(const Files& files) {
  const auto file = read(files);
  return file ? std::vector<std::string>{} : file.error().messages();
}

void expect_only(const Files& files, const std::string& message) {
  EXPECT_EQ(refusals(files), std::vector<std::string>{message});
}

/// Each chance is a number from 0 to 1.
void expect_a_season(const Files& files, const std::string& what) {
  const auto file = read(files);
  ASSERT_TRUE(file.ok()) << what << ": " << file.error().message();
  const std::vector<double> chances = small_season(file->goal);
  EXPECT_TRUE(std::ranges::all_of(chances, [](double chance) { return chance >= 0 && chance <= 1; }))
      << what << fmt::format(": {}", fmt::join(chances, " "));
}

constexpr std::string_view kNoBeta = "{ low = 0.3, high = 0.9999999999999 }";
constexpr std::string_view kNoBetaAbout = "{ about = 0.5, low = 0.3, high = 0.9999999999999 }";
constexpr std::string_view kNoBetaOfProfile = "{ value = 0.5, low = 0.3, high = 0.9999999999999, batch_spread = 0.5 }";
constexpr std::string_view kWhy = "found 0.9999999999999; allowed: a number from 0.0001 to 0.9999 (a share)";

TEST(RangeWithoutABeta, IsRefusedForEveryRateOfAGoal) {
  for (const std::string_view rate : kRates) {
    for (const std::string_view range : {kNoBeta, kNoBetaAbout}) {
      expect_only({.goal = kGoal + fmt::format("[rates]\n{} = {}\n", rate, range)},
                  fmt::format("goal.toml:12: rates.{}.high: {}", rate, kWhy));
    }
  }
  for (const std::string_view rate : {"take", "grade"}) {
    Files files;
    files.goal.insert(files.goal.find("[place]"), fmt::format("{} = {}\n", rate, kNoBeta));
    expect_only(files, fmt::format("goal.toml:7: want[1].{}.high: {}", rate, kWhy));
  }
}

TEST(RangeWithoutABeta, IsRefusedForEveryRateOfAnOwnProfileAndAMethod) {
  for (const std::string_view range : {kNoBeta, kNoBetaAbout, kNoBetaOfProfile}) {
    for (const std::string_view rate : kRates) {
      expect_only({.profile = kProfile + fmt::format("[rates]\n{} = {}\n", rate, range)},
                  fmt::format("own.toml:3: rates.{}.high: {}", rate, kWhy));
    }
    for (const std::string_view rate : {"take", "grade"}) {
      expect_only({.method = kMethod + fmt::format("[rates]\n{} = {}\n", rate, range)},
                  fmt::format("cut.toml:3: rates.{}.high: {}", rate, kWhy));
    }
  }
}

/// A complete profile or method in which the `high` of this rate is another.
std::string with_high_of(std::string text, const std::string& rate, std::string_view high) {
  const std::size_t table = text.find("\n[rates." + rate + "]\n");
  const std::size_t at = text.find("\nhigh", table) + 1;
  EXPECT_NE(table, std::string::npos) << rate;
  return text.replace(at, text.find('\n', at) - at, fmt::format("high = {}", high));
}

TEST(RangeWithoutABeta, IsRefusedForEveryRateOfACompleteProfileAndMethod) {
  const auto ends_as_it_should = [](const auto& read_text, const std::string& rate) {
    ASSERT_FALSE(read_text.ok()) << rate;
    EXPECT_TRUE(read_text.error().message().ends_with(fmt::format(": rates.{}.high: {}", rate, kWhy)))
        << read_text.error().message();
    EXPECT_GT(read_text.error().line, 0);
  };
  const std::string& species = shipped_library().species.at("pinus-thunbergii").text;
  for (const std::string_view rate : kRates) {
    ends_as_it_should(read_species(with_high_of(species, std::string(rate), "0.9999999999999"), "a.toml"),
                      std::string(rate));
  }
  const std::string& method = shipped_library().methods.at("slanting-cut").text;
  for (const std::string rate : {"take", "grade"}) {
    if (method.find("\n[rates." + rate + "]\n") == std::string::npos) continue;
    ends_as_it_should(read_method(with_high_of(method, rate, "0.9999999999999"), "a.toml", shipped_library()), rate);
  }
}

/// The least and the most that a key of an own profile may hold, as its message says.
std::pair<double, double> limits_of(const std::string& key) {
  const std::vector<std::string> messages = refusals({.profile = key + " = -1e9\n"});
  if (messages.size() != 1) return {};
  const std::string allowed = messages[0].substr(messages[0].find("a number from "));
  double least = 0;
  double most = 0;
  EXPECT_EQ(std::sscanf(allowed.c_str(), "a number from %lf to %lf", &least, &most), 2) << messages[0];
  return {least, most};
}

TEST(Extremes, EveryNumberOfAProfileGoesTheWholeWay) {
  for (const std::string key : {"seeds_per_gram",
                                "chill_days",
                                "unchilled_time_factor",
                                "unchilled_spread_factor",
                                "germination_time",
                                "germination_spread",
                                "cover_time",
                                "loss_half_age_days",
                                "ripening_time",
                                "ripening_spread",
                                "window_end_time",
                                "edge_odds",
                                "rooting_time",
                                "rooting_spread",
                                "unrooted_life_days",
                                "failure_half_life_days",
                                "weaning_days",
                                "shortest_day_h",
                                "standstill_day_h",
                                "cold_seed_loss",
                                "idle_loss",
                                "seedling_frost_c",
                                "cutting_frost_c"}) {
    const auto [least, most] = limits_of(key);
    ASSERT_LT(least, most) << key;
    // The window must close after it opens: its other end goes out of the way.
    const std::string beside = key == "ripening_time"     ? "window_end_time = 20000\n"
                               : key == "window_end_time" ? "ripening_time = 1\n"
                                                          : "";
    const double low = key == "window_end_time" ? least + 1 : least;
    for (const std::string& value : {fmt::format("{}", low), fmt::format("{}", most),
                                     fmt::format("{{ value = {}, low = {}, high = {} }}", low, low, most),
                                     fmt::format("{{ value = {}, low = {}, high = {} }}", most, low, most)}) {
      expect_a_season({.profile = beside + fmt::format("{} = {}\n", key, value)}, key + " = " + value);
    }
  }
}

TEST(Extremes, CardinalTemperaturesGoTheWholeWayOrAreTooNear) {
  const auto with = [](std::string_view key, double base, double optimum, double ceiling) {
    return Files{.profile = fmt::format("[{}]\nbase = {}\noptimum = {}\nceiling = {}\n", key, base, optimum, ceiling)};
  };
  for (const std::string_view key : {"germination_temperature", "ripening_temperature", "rooting_temperature"}) {
    for (const auto& [base, optimum, ceiling] : {std::tuple{-10.0, -9.0, -8.0},
                                                 {58.0, 59.0, 60.0},
                                                 {-10.0, 59.0, 60.0},
                                                 {-10.0, -9.0, 60.0},
                                                 {20.0, 21.0, 22.0}}) {
      expect_a_season(with(key, base, optimum, ceiling), fmt::format("{} {} {} {}", key, base, optimum, ceiling));
    }
    expect_only(
        with(key, 20, 20.0000001, 30),
        fmt::format("own.toml:1: {}: found base 20, optimum 20.0000001, ceiling 30; allowed: base at least 1 °C "
                    "below optimum, optimum at least 1 °C below ceiling",
                    key));
    EXPECT_FALSE(read(with(key, 20, 29.5, 30)).ok());
  }
}

TEST(Extremes, EveryNumberOfAGoalGoesTheWholeWay) {
  for (const std::string tail :
       {"assurance",
        "[rates]\ngermination = 0\n",
        "[rates]\ntake = 1\ngrade = 1\nusable = 1\n",
        "[rates]\ntake = { exactly = 0, batch_spread = 3 }\ngrade = { exactly = 1, batch_spread = 3 }\n",
        "[rates]\ngermination = { good = 0, of = 1000000 }\nstanding = { good = 1000000, of = 1000000 }\n",
        "[rates]\ntake = { low = 0.0001, high = 0.9999, batch_spread = 3 }\n",
        "[rates]\ntake = { about = 0.00010000001, low = 0.0001, high = 0.9999 }\n",
        "[rates]\nusable = { low = 0.88, high = 0.88001 }\n",
        "[seedbed]\nfixed = -10\n",
        "[seedbed]\nfixed = 45\n",
        "[bench]\nfixed = -10\n",
        "[bench]\nfixed = 45\n",
        "[seedbed]\noffset = 30\n[bench]\noffset = -20\n",
        "[sessions]\ncuttings_at_most = 1\n",
        "[sessions]\ncuttings_at_most = 1000000\n",
        "[sessions]\nhours_at_most = 24\n",
        "[sessions]\ncontrols = 0.9\n",
        "[sessions]\nlifted = 0.9\n",
        "[lot]\nseeds_per_gram = 0.1\n",
        "[lot]\nchill_days = 365\n"}) {
    expect_a_season({.goal = tail == "assurance" ? "assurance = 1e-300\n" + kGoal : kGoal + tail}, tail);
  }
  for (const std::string latitude : {"90", "-90"}) {
    std::string goal = kGoal;
    expect_a_season({.goal = goal.replace(goal.find("47.6"), 4, latitude)}, "latitude " + latitude);
  }
  std::string many = kGoal;
  expect_a_season({.goal = many.replace(many.find("60\n"), 2, "1000000")}, "a million plants");
}

TEST(Extremes, EveryNumberOfAMethodGoesTheWholeWay) {
  for (const std::string line : {"auxin_ppm = 1", "auxin_ppm = 50000", "soak_seconds = 1", "soak_seconds = 172800",
                                 "group = 1", "group = 1000", "controls = 0.9", "lifted = 0.9",
                                 "auxin_ppm = 50000\nsoak_seconds = 172800", "auxin_ppm = 1\nsoak_seconds = 1"}) {
    expect_a_season({.method = kMethod + line + "\n"}, line);
  }
  // Sizes that do not go into each other are refused by the key that is wrong.
  expect_only(
      {.method = kMethod + "stem_length_mm = 200\n"},
      "cut.toml:2: stem_length_mm: found 20 cm in a medium 7.2 cm deep; allowed: 0 or more, at most the depth of "
      "the medium");
  for (const std::string key : {"pocket_depth_mm", "pocket_width_mm", "cuttings_per_container"}) {
    const auto messages = refusals({.method = kMethod + key + " = 500\n"});
    ASSERT_EQ(messages.size(), 1U) << key;
    EXPECT_EQ(messages[0].find("cut.toml:2: " + key + ": "), 0U) << messages[0];
  }
}

}  // namespace
}  // namespace strikebed::nursery
