// The published checks, one test per data file, and the runner itself on data that is wrong on purpose.
#include "nursery/checks/run_checks.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "print/checks_json.hpp"
#include "print/checks_text.hpp"
#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

const std::vector<print::Check>& all_checks() {
  static const Result<std::vector<print::Check>> checks = run_checks(published_checks());
  if (!checks) throw std::runtime_error(checks.error().message());
  return checks.value();
}

std::map<std::string, std::vector<print::Check>> by_topic() {
  std::map<std::string, std::vector<print::Check>> topics;
  for (const print::Check& check : all_checks()) topics[check.topic].push_back(check);
  return topics;
}

std::vector<std::string> data_files() {
  std::vector<std::string> names;
  for (const std::string_view name : ids_of(published_checks().topics)) names.emplace_back(name);
  return names;
}

class PublishedChecks : public testing::TestWithParam<std::string> {};

TEST_P(PublishedChecks, Hold) {
  const auto topics = by_topic();
  const auto found = topics.find(GetParam());
  ASSERT_NE(found, topics.end()) << "the topic in the file must be the file's name";
  std::vector<print::Check> failing;
  std::copy_if(found->second.begin(), found->second.end(), std::back_inserter(failing),
               [](const print::Check& check) { return !check.holds; });
  EXPECT_TRUE(failing.empty()) << print::checks_text(failing);
}
INSTANTIATE_TEST_SUITE_P(Topics, PublishedChecks, testing::ValuesIn(data_files()),
                         [](const auto& file) { return file.param; });

TEST(Checks, AreSixtyOrMoreAndFiveOrMorePerTopic) {
  EXPECT_GE(all_checks().size(), 60U);
  for (const auto& [topic, checks] : by_topic()) EXPECT_GE(checks.size(), 5U) << topic;
}

TEST(Checks, SayWhereEveryNumberComesFrom) {
  const std::regex known("^(looked up|from memory|common practice|by hand|computed with )");
  for (const print::Check& check : all_checks()) {
    EXPECT_FALSE(check.source.empty()) << check.id;
    EXPECT_TRUE(std::regex_search(check.how_known, known)) << check.id << ": " << check.how_known;
  }
}

// The table of topics in docs/checks.md: "| topic | 12 |".
TEST(Checks, AreCountedRightInTheDocumentation) {
  std::ifstream file(SOURCE_DIR "/docs/checks.md");
  std::map<std::string, std::size_t> written;
  const std::regex row(R"(^\| `([a-z_]+)` \|.*\| (\d+) \|$)");
  for (std::string line; std::getline(file, line);)
    if (std::smatch match; std::regex_match(line, match, row)) written[match[1]] = std::stoul(match[2]);
  std::map<std::string, std::size_t> counted;
  for (const auto& [topic, checks] : by_topic()) counted[topic] = checks.size();
  EXPECT_EQ(written, counted);
}

/// One data file.
Result<std::vector<print::Check>> run(const std::string& text) {
  return run_checks({.topics = {{"file", {"folder/file.json", text}}}, .beside = published_checks().beside});
}
/// One case about eight heads or more of ten throws (56 of 1024), with this computation, inputs and expectation.
Result<std::vector<print::Check>> run_case(const std::string& compute, const std::string& inputs,
                                           const std::string& expected) {
  return run(fmt::format(R"({{"topic": "t", "about": "", "cases": [{{"id": "t.1", "title": "", "source": "s",
        "how_known": "by hand", "compute": "{}", "inputs": {}, "expected": {},
        "tolerance": {{"*": {{"abs": 1e-9}}}}}}]}})",
                         compute, inputs, expected));
}

constexpr char kCoin[] = R"({"wanted": 8, "number": 10, "chance": 0.5})";

TEST(WrittenChecks, RightExpectationHolds) {
  const auto checks = run_case("binomial_at_least", kCoin, R"({"chance": 0.0546875})");
  ASSERT_TRUE(checks.ok());
  EXPECT_TRUE(checks->at(0).holds);
  EXPECT_NE(print::checks_text(*checks).find("1 of 1 published checks hold"), std::string::npos);
}

TEST(WrittenChecks, WrongExpectationDoesNotHold) {
  for (const char* wrong :
       {R"({"chance": 0.0546876})", R"({"chance": null})", R"({"chance": "0.0546875"})", R"({"chance": []})",
        R"({"chance": [0.0546875, 0.0546875]})", R"({"luck": 0.0546875})", R"({})"}) {
    const auto checks = run_case("binomial_at_least", kCoin, wrong);
    ASSERT_TRUE(checks.ok()) << wrong;
    EXPECT_FALSE(checks->at(0).holds) << wrong;
    EXPECT_NE(print::checks_text(*checks).find("0 of 1 published checks hold"), std::string::npos);
    EXPECT_NE(print::checks_json(*checks).find("\"holds\": false"), std::string::npos);
  }
}

TEST(WrittenChecks, WhatCannotBeComputedDoesNotHoldAndSaysWhy) {
  const auto unknown = run_case("phlogiston", kCoin, R"({"chance": 0.0546875})");
  ASSERT_TRUE(unknown.ok());
  EXPECT_FALSE(unknown->at(0).holds);
  EXPECT_NE(unknown->at(0).problem.find("phlogiston"), std::string::npos);

  const auto missing = run_case("binomial_at_least", R"({"wanted": 8, "number": 10})", R"({"chance": 0.0546875})");
  ASSERT_TRUE(missing.ok());
  EXPECT_FALSE(missing->at(0).holds);
  EXPECT_NE(missing->at(0).problem.find("chance"), std::string::npos);

  const auto refused = run_case("interval_wilson", R"({"good": 8, "of": 5, "level": 0.9})", R"({"low": 0.5})");
  ASSERT_TRUE(refused.ok());
  EXPECT_FALSE(refused->at(0).holds);
  EXPECT_FALSE(refused->at(0).problem.empty());

  const auto uneven =
      run_case("binomial_at_least", R"({"wanted": [1, 2], "number": [3, 4, 5], "chance": 0.5})", R"({"chance": 0.5})");
  ASSERT_TRUE(uneven.ok());
  EXPECT_FALSE(uneven->at(0).holds);
}

// Covers  every computation of the published checks with each of its inputs left out, too long, of another kind or
//         nonsense: nothing breaks, and one of another kind does not hold and says why.
TEST(WrittenChecks, EveryComputationBearsWrongInputs) {
  using Json = nlohmann::json;
  std::map<std::string, Json> one_of_each;
  for (const auto& [topic, text] : published_checks().topics) {
    const Json data = Json::parse(text.text);
    for (const Json& json : data.at("cases")) one_of_each.emplace(json.at("compute"), json);
  }
  ASSERT_GT(one_of_each.size(), 80U);
  const std::vector<Json> nonsense{nullptr, "nonsense", Json::array(), Json::object(), Json::array({nullptr}), true};
  const auto run_with = [](Json json, const Json& inputs) {
    json["inputs"] = inputs;
    const auto checks = run(Json{{"topic", "t"}, {"cases", Json::array({json})}}.dump());
    if (checks) return checks->at(0);
    ADD_FAILURE() << checks.error().message();
    return print::Check{};
  };
  for (const auto& [name, json] : one_of_each) {
    const Json& inputs = json.at("inputs");
    for (const auto& [key, value] : inputs.items()) {
      Json without = inputs;
      without.erase(key);
      (void)run_with(json, without);  // may be one that can be left out
      for (const Json& wrong : nonsense) {
        Json changed = inputs;
        changed[key] = wrong;
        const print::Check check = run_with(json, changed);
        EXPECT_FALSE(check.holds) << name << " with " << key << " " << wrong;
        EXPECT_TRUE(!check.problem.empty() || wrong.is_string()) << name << " with " << key << " " << wrong;
      }
      Json longer = inputs;
      longer[key] = Json::array({1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13});
      (void)run_with(json, longer);
    }
  }
}

TEST(WrittenChecks, AFileThatIsNoDataFileIsAnErrorThatNamesIt) {
  for (const char* text :
       {"", "{", "[]", R"({"topic": "t"})", R"({"topic": "t", "cases": [{"id": "t.1"}]})",
        R"({"topic": 3, "cases": []})", R"({"topic": "t", "cases": [3]})", "3", "null",
        R"({"topic": "t", "cases": [{"id": "t.1", "title": "", "source": "", "how_known": "", "compute": "",
            "inputs": {}, "expected": [], "tolerance": {}}]})"}) {
    const auto checks = run(text);
    ASSERT_FALSE(checks.ok()) << text;
    EXPECT_EQ(checks.error().file, "folder/file.json");
  }
}

TEST(WrittenChecks, TheSameIdTwiceIsAnError) {
  const std::string one = R"({"id": "t.1", "title": "", "source": "s", "how_known": "by hand",
      "compute": "binomial_at_least", "inputs": {}, "expected": {}, "tolerance": {}})";
  EXPECT_FALSE(run(R"({"topic": "t", "cases": [)" + one + "," + one + "]}").ok());
}

}  // namespace
}  // namespace strikebed::nursery
