// Requests that no page means to send: whatever they hold, the engine answers with a document and goes on.
#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "base/random.hpp"
#include "browser/carried.hpp"
#include "browser/engine.hpp"
#include "tests/browser/known_fields.hpp"

namespace strikebed::browser {
namespace {

using Json = nlohmann::ordered_json;

struct Asked {
  std::string_view use_case;
  std::string_view request;
};
/// One of each use case that is answered, but for the goal, which stops short of a plan: weather takes long to make.
/// A lot, with as many digits as a note wants.
const std::string kNote =
    R"({"words": ["lot", "ridge", "pinus-thunbergii", "800", "seeds"], "who": "A", "device": "phone", "on": "yesterday",)"
    R"( "now": "2027-04-18T09:30:00.000+02:00", "at_minute": 600, "anyway": false, "undo": false, "random": ")" +
    std::string(1024, '7') + "\"}";

const std::array kRight = std::to_array<Asked>({
    {"keep",
     R"({"time_zones": ["UTC", "Asia/Tokyo"], "files": {"a.csv": "date,tmin,tmax\n2026-01-01,1,2\n", "b": null}})"},
    {"plan",
     R"({"goal": {"file": "goal.toml", "text": "species = \"pinus-thunbergii\"\nby = 2027-10-01\n[[want]]\n"},)"
     R"( "today": "2026-12-01", "seeds": 100, "random_seed": 7, "weather": {"file": "w.csv", "text": "date"}})"},
    {"weather", R"({"weather": {"file": "w.csv", "text": "date,tmin,tmax\n2026-01-01,1,2\n2026-01-02,1,2\n"},)"
                R"( "latitude_deg": 47.6, "bases_c": [0, 5.5], "on_coast": true, "columns": ["tmax=tmax:F"]})"},
    {"mix solution", R"({"stock": "1 % IBA", "solvent": "alcohol", "target": "250 ppm IBA", "made_up_to": "100 mL",)"
                     R"( "instruments": ["syringe 0.02 mL"], "keep": true, "today": "2026-12-01"})"},
    {"mix disinfectant",
     R"({"from": "96 % ethanol", "target": "70 % ethanol", "make": "500 mL", "today": "2026-12-01"})"},
    {"mix medium",
     R"({"pots": "48", "across": "8-9cm", "recipe": "2 grit 3-4 mm, 1 peat", "square": true, "as": "words"})"},
    {"mix feed",
     R"({"fertilisers": ["20-10-20"], "target": "100 N", "volume": "9 +- 0.5 L", "names": {"target": "T"}})"},
    {"feed phases", R"({"phases_from": null})"},
    {"daybook", R"({"anew": true})"},
    {"note", kNote},
    {"exchange", R"({})"},
    {"batches", R"({"as": "words"})"},
    {"checks", R"({"files": {"hours.json": "{\"topic\": \"hours\", \"cases\": []}", "a.txt": "1"}})"},
});

/// Values that some field is right with and others are not, a line each.
constexpr const char* kValues = R"lines(null
true
0
-0.0
-1
0.5
1e308
1e999
18446744073709551615
18446744073709551616
""
" "
"\u0000"
"\ud800"
"nan"
"1e999 mL"
"-1 %"
"%s{}%n"
"0 L"
"9999999999999999999999999 kg"
"1 in 0"
"2027-02-30"
"9999-12-31"
"\n\t"
"<target>"
[]
[[]]
[null]
["", "x"]
[1, 2e200]
{}
{"a": null}
{"file": "x", "text": ""}
{"file": "x.epw", "text": "LOCATION,\u0000"}
{"file": 1, "text": []}
{"a.json": "[", "": ""})lines";

/// Answers, and what it says is a document: an error with its message, or JSON unless words were asked for.
void expect_a_document(Engine& engine, std::string_view use_case, const std::string& request) {
  Status status = engine.begin(use_case, request);
  if (status == Status::going) engine.stop();
  const std::string& document = engine.document();
  const Json json = Json::parse(document, nullptr, false);
  if (status == Status::wrong) {
    ASSERT_TRUE(json.is_object() && json.contains("error")) << use_case << ": " << request << "\n" << document;
    EXPECT_FALSE(json["error"]["message"].get<std::string>().empty()) << use_case << ": " << request;
  } else {
    ASSERT_TRUE(json.is_object() || request.find("\"as\"") != std::string::npos) << use_case << ": " << request;
    EXPECT_FALSE(document.empty()) << use_case << ": " << request;
  }
}

TEST(OddRequests, StartFromRightOnes) {
  Engine engine(carried_library());
  for (const auto& [use_case, request] : kRight) {
    if (use_case == "plan" || use_case == "checks") continue;
    EXPECT_EQ(engine.begin(use_case, request), Status::done) << engine.document();
  }
}

TEST(OddRequests, WithAnyKindOfValueInAnyFieldAreAnswered) {
  std::vector<std::string> values = {"\"\xff\"", Json(std::string(100'000, '7')).dump(),
                                     Json(std::string(3000, '(')).dump()};
  std::istringstream lines(kValues);
  for (std::string line; std::getline(lines, line);) values.push_back(line);
  Engine engine(carried_library());
  for (const auto& [use_case, request] : kRight) {
    for (const std::string& field : known_fields(engine, use_case)) {
      Json others = Json::parse(request, nullptr, false);
      others.erase(field);
      std::string rest = others.dump();
      rest.front() = others.empty() ? ' ' : ',';
      for (const std::string& value : values) {
        expect_a_document(engine, use_case, fmt::format("{{\"{}\": {}{}", field, value, rest));
        if (HasFatalFailure()) return;
      }
    }
  }
}

/// A right request with some bytes taken out, put in, changed or doubled.
std::string spoiled(std::string text, std::uint64_t stream) {
  static constexpr std::array<std::string_view, 24> kPieces = {"{",
                                                               "}",
                                                               "[",
                                                               "]",
                                                               "\"",
                                                               ":",
                                                               ",",
                                                               "\\",
                                                               "null",
                                                               "1e99",
                                                               "-",
                                                               "\\u",
                                                               "\\ud83d",
                                                               "\xf0\x9f",
                                                               "\xed\xa0\x80",
                                                               std::string_view("\0", 1),
                                                               "\n",
                                                               "%",
                                                               "true",
                                                               ".",
                                                               "\xef\xbb\xbf",
                                                               "/*",
                                                               "\"as\":\"words\",",
                                                               "999999999999"};
  std::uint64_t counter = 0;
  const auto below = [&](std::size_t limit) {
    return static_cast<std::size_t>(random_bits_of(stream, counter++) % limit);
  };
  for (std::size_t edits = 1 + below(4); edits > 0 && !text.empty(); --edits) {
    const std::size_t at = below(text.size());
    const std::size_t length = 1 + below(12);
    switch (below(5)) {
      case 0:
        text.erase(at, length);
        break;
      case 1:
        text.insert(at, kPieces[below(kPieces.size())]);
        break;
      case 2:
        text[at] = static_cast<char>(below(256));
        break;
      case 3:
        text.insert(below(text.size()), text.substr(at, length));
        break;
      default:
        text.replace(at, length, kPieces[below(kPieces.size())]);
    }
  }
  return text;
}

TEST(OddRequests, SpoiledInManyWaysAreAnswered) {
  constexpr std::uint64_t kOfEach = 400;
  Engine engine(carried_library());
  for (std::size_t which = 0; which < kRight.size(); ++which) {
    const auto& [use_case, request] = kRight[which];
    for (std::uint64_t i = 0; i < kOfEach; ++i) {
      expect_a_document(engine, use_case, spoiled(std::string(request), random_stream(5, which, i)));
      if (HasFatalFailure()) return;
    }
  }
  const std::string still = R"({"fertilisers": ["20-10-20"], "target": "100 N"})";
  EXPECT_EQ(engine.begin("mix feed", still), Status::done) << engine.document();
}

TEST(OddRequests, OfUseCasesWithOddNamesAreAnswered) {
  Engine engine(carried_library());
  for (const std::string& name :
       {std::string(), std::string("\0plan", 5), std::string("plan "), std::string("\xff\xff"),
        std::string(1'000'000, 'p'), std::string("mix  feed"), std::string("\xf0\x9f\x8c\xb1")}) {
    EXPECT_EQ(engine.begin(name, "{}"), Status::wrong);
    expect_a_document(engine, name, "{}");
  }
}

}  // namespace
}  // namespace strikebed::browser
