#include "print/plan/plan_json.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <set>

#include "tests/file_text.hpp"
#include "tests/print/example_plan.hpp"

namespace strikebed::print {
namespace {

using Json = nlohmann::ordered_json;

void collect_keys(const Json& json, std::set<std::string>& keys) {
  if (json.is_object()) {
    for (const auto& [key, value] : json.items()) {
      keys.insert(key);
      collect_keys(value, keys);
    }
  } else if (json.is_array()) {
    for (const auto& value : json) collect_keys(value, keys);
  }
}

/// The part of docs/json.md on `plan`: from its heading to the next one of the same rank.
std::string plan_section() {
  const std::string all = file_text(SOURCE_DIR "/docs/json.md");
  const std::size_t start = all.find("\n## `plan`");
  if (start == std::string::npos) return {};
  return all.substr(start, all.find("\n## ", start + 1) - start);
}

}  // namespace

// Covers  docs/json.md describes every key of a full plan, each at the head of a table row, with what holds it or
// without.
TEST(PlanJson, HasNoKeyThatIsNotDocumented) {
  std::set<std::string> keys;
  collect_keys(plan_json(example_goal(), example_plan(), example_notes()), keys);
  collect_keys(plan_json(example_goal(), unmet_plan(), {}), keys);
  const std::string documented = plan_section();
  ASSERT_FALSE(documented.empty());
  EXPECT_GT(keys.size(), 40U);
  for (const std::string& key : keys) {
    const bool alone = documented.find("| `" + key + "` |") != std::string::npos;
    const bool listed = documented.find("| `" + key + "[]` |") != std::string::npos;
    const bool inside = documented.find("." + key + "`") != std::string::npos;
    EXPECT_TRUE(alone || listed || inside) << key << " is not in docs/json.md";
  }
}

// Covers  the keys that are promised to stay, with their types.
TEST(PlanJson, KeepsItsPromisedKeys) {
  const Json json = plan_json(example_goal(), example_plan(), example_notes());
  EXPECT_EQ(json.at("met"), true);
  EXPECT_EQ(json.at("seeds"), 412);
  EXPECT_EQ(json.at("seeds_range"), Json::array({398, 428}));
  EXPECT_DOUBLE_EQ(json.at("assurance").get<double>(), 0.9004);
  EXPECT_DOUBLE_EQ(json.at("assurance_error").get<double>(), 0.0031);
  EXPECT_EQ(json.at("chill_start"), "2027-02-17");
  EXPECT_EQ(json.at("sow_dates"), Json::array({"2027-04-03"}));
  EXPECT_EQ(json.at("count_date"), "2027-05-08");
  EXPECT_EQ(json.at("sessions").size(), 9U);
  EXPECT_EQ(json.at("sessions")[2].at("date"), "2027-05-29");
  EXPECT_EQ(json.at("sessions")[2].at("cuttings").dump(), R"({"low":14.0,"typical":41.0,"high":48.0})");
  EXPECT_DOUBLE_EQ(json.at("needs").at("medium_litres").get<double>(), 102);
  EXPECT_EQ(json.at("unknowns")[1].at("name"), "take (radial)");
  EXPECT_EQ(json.at("unknowns")[1].at("seeds_saved"), 96);
  EXPECT_TRUE(json.at("limits").is_array());
  EXPECT_EQ(json.at("warnings").size(), 2U);
}

TEST(PlanJson, SaysWhatLimitsAndWhatCanBeMet) {
  const Json json = plan_json(example_goal(), unmet_plan(), {});
  EXPECT_EQ(json.at("met"), false);
  EXPECT_EQ(json.at("limits")[0].at("kind"), "room");
  EXPECT_EQ(json.at("nearest").at("counts"), Json::array({41, 5}));
  EXPECT_EQ(json.at("nearest").at("by"), "2027-11-05");
  EXPECT_TRUE(json.at("last_sowing").is_null());
  EXPECT_TRUE(json.at("sweep")[0].at("seeds").is_null());
}

// Covers  what is not known is null: no chilling, no date, no number; never nan or inf.
TEST(PlanJson, WritesNullForWhatIsNotKnown) {
  season::Plan plan = example_plan();
  plan.assurance = std::numeric_limits<double>::quiet_NaN();
  plan.needs.hours = std::numeric_limits<double>::infinity();
  plan.sowings[0].chill_start.reset();
  const Json json = plan_json(example_goal(), plan, {});
  EXPECT_TRUE(json.at("assurance").is_null());
  EXPECT_TRUE(json.at("needs").at("hours").is_null());
  EXPECT_TRUE(json.at("chill_start").is_null());
  const Json empty = plan_json(season::Goal{}, empty_plan(), {});
  EXPECT_TRUE(empty.at("count_date").is_null());
  EXPECT_TRUE(empty.at("sessions").is_array());
  EXPECT_TRUE(empty.at("limits").is_array());
  EXPECT_TRUE(empty.at("warnings").is_array());
  EXPECT_TRUE(empty.at("sow_dates").is_array());
  EXPECT_EQ(Json::parse(json.dump()), json);
}

}  // namespace strikebed::print
