// The published checks, one test per data file, and the runner itself on data that is wrong on purpose.
#include "nursery/checks/run_checks.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <regex>
#include <sstream>

#include "print/checks_json.hpp"
#include "print/checks_text.hpp"
#include "tests/file_text.hpp"
#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

const std::vector<print::Check>& all_checks() {
  static const Result<std::vector<print::Check>> checks = run_checks(published_checks());
  EXPECT_TRUE(checks.ok()) << checks.error().message();
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
  std::istringstream file(file_text(SOURCE_DIR "/docs/checks.md"));
  std::map<std::string, std::size_t> written;
  const std::regex row(R"(^\| `([a-z_]+)` \|.*\| (\d+) \|$)");
  for (std::string line; std::getline(file, line);)
    if (std::smatch match; std::regex_match(line, match, row)) written[match[1]] = std::stoul(match[2]);
  std::map<std::string, std::size_t> counted;
  for (const auto& [topic, checks] : by_topic()) counted[topic] = checks.size();
  EXPECT_EQ(written, counted);
}

/// The numbers of a text ("100" in "1 in 100" and in "20-100-20"), each 1 % larger or smaller; those of dates are left.
std::vector<std::string> moved(const std::string& text) {
  static const std::regex date(R"(\d{4}-\d{2}-\d{2})");
  static const std::regex number(R"(\d+(\.\d+)?)");
  std::vector<std::string> others;
  if (std::regex_search(text, date)) return others;
  for (std::sregex_iterator match(text.begin(), text.end(), number), end; match != end; ++match) {
    if (match->position() > 0 &&
        std::isalpha(static_cast<unsigned char>(text[static_cast<std::size_t>(match->position()) - 1])) != 0)
      continue;
    for (const double factor : {1.01, 0.99}) {
      others.push_back(match->prefix().str() + fmt::format("{:.6g}", std::stod(match->str()) * factor) +
                       match->suffix().str());
    }
  }
  return others;
}

/// What may stand in place of a value: a number 1 % larger or smaller; a whole one also one more or less, for a count.
std::vector<nlohmann::json> moved(const nlohmann::json& value) {
  std::vector<nlohmann::json> others;
  if (value.is_number_integer()) {
    const auto number = value.get<int>();
    const int step = std::max(1, std::abs(number) / 100);
    for (const int by : {1, step}) others.insert(others.end(), {number + by, number - by});
  } else if (value.is_number()) {
    for (const double factor : {1.01, 0.99}) others.emplace_back(value.get<double>() * factor);
  } else if (value.is_string()) {
    for (const std::string& text : moved(value.get<std::string>())) others.emplace_back(text);
  }
  return others;
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

/// Whether a case notices that one of its numbers is moved, one number at a time; nothing when it has none.
std::optional<bool> notices_a_number_moved(const nlohmann::json& json) {
  using Json = nlohmann::json;
  std::optional<bool> notices;
  const Json leaves = json.at("inputs").flatten();
  for (const auto& [place, value] : leaves.items()) {
    if (place.starts_with("/file") || place.starts_with("/text")) continue;  // what is read, and no number
    for (const Json& other : moved(value)) {
      Json changed = json;
      changed["inputs"][Json::json_pointer(place)] = other;
      const auto checks = run(Json{{"topic", "t"}, {"cases", Json::array({changed})}}.dump());
      if (checks && checks->at(0).problem.empty() && !checks->at(0).holds) return true;
      notices = false;
    }
  }
  return notices;
}

// Covers  that a check can fail: among the numbers that it is given there is one that it notices when it is 1 % wrong
// (or
//         one off, where it counts). One that is then refused does not count.
TEST(Checks, NoticeAnErrorOfOnePerCent) {
  int with_numbers = 0;
  for (const auto& [topic, text] : published_checks().topics) {
    const nlohmann::json data = nlohmann::json::parse(text.text);
    for (const nlohmann::json& json : data.at("cases")) {
      const auto notices = notices_a_number_moved(json);
      with_numbers += notices ? 1 : 0;
      EXPECT_NE(notices, std::optional(false)) << json.at("id");
    }
  }
  EXPECT_GT(with_numbers, 200);
}

// Covers  that the test above can fail.
TEST(WrittenChecks, ATooWideToleranceIsNoticed) {
  nlohmann::json coin = nlohmann::json::parse(R"({"id": "t.1", "title": "", "source": "s", "how_known": "by hand",
      "compute": "binomial_at_least", "expected": {"chance": 0.0546875}, "tolerance": {"*": {"abs": 1e-9}}})");
  coin["inputs"] = nlohmann::json::parse(kCoin);
  EXPECT_EQ(notices_a_number_moved(coin), true);
  coin["tolerance"]["*"]["abs"] = 1;
  EXPECT_EQ(notices_a_number_moved(coin), false);
  coin["inputs"] = nlohmann::json::object();
  EXPECT_EQ(notices_a_number_moved(coin), std::nullopt);
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
