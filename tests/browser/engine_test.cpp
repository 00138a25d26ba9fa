// The engine as a page asks it: what it answers, what it refuses and in which words, long work in steps, and what is
// kept from one call to the next.
#include "browser/engine.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "browser/carried.hpp"
#include "browser/exports.hpp"
#include "daybook/document.hpp"
#include "nursery/daybook/batches.hpp"
#include "nursery/forecast.hpp"
#include "nursery/own_profile.hpp"
#include "nursery/printed.hpp"
#include "nursery/today.hpp"
#include "tests/browser/known_fields.hpp"
#include "tests/file_text.hpp"

namespace strikebed::browser {
namespace {

using Json = nlohmann::ordered_json;

/// A goal that is planned in a moment, of so many plants.
std::string small_goal(int count = 12) {
  return R"(species = "pinus-thunbergii"
by = 2027-10-01
count_at = "rooted"
assurance = 0.8

[[want]]
base_form = "radial"
count = )" +
         std::to_string(count) + R"(

[place]
latitude = 47.6
longitude = -122.3
time_zone = "America/Los_Angeles"
[place.normals]
tmin = [2, 2, 4, 5, 8, 11, 13, 13, 11, 7, 4, 2]
tmax = [8, 10, 12, 15, 19, 21, 24, 25, 21, 15, 11, 8]
tmin_sd = [3, 3, 2, 2, 2, 2, 2, 2, 2, 3, 3, 3]
tmax_sd = [3, 3, 3, 4, 4, 4, 4, 4, 4, 3, 3, 3]

[seedbed]
at_least = 18

[rates]
germination = 0.8
standing = 0.9
usable = 0.9
take = { low = 0.4, high = 0.8 }
grade = 0.9

[sessions]
dates = [2027-05-15, 2027-05-22, 2027-05-29]
)";
}

std::string plan_request(const std::string& goal) {
  return Json{{"goal", {{"file", "goal.toml"}, {"text", goal}}}, {"today", "2026-12-01"}}.dump();
}

/// Steps on until there is an answer.
Status finish(Engine& engine, Status status) {
  while (status == Status::going) status = engine.step();
  return status;
}

Json error_of(Engine& engine, std::string_view use_case, const std::string& request) {
  EXPECT_EQ(engine.begin(use_case, request), Status::wrong) << engine.document();
  const Json document = Json::parse(engine.document(), nullptr, false);
  EXPECT_TRUE(document.is_object() && document.contains("error")) << engine.document();
  return document.is_object() && document.contains("error") ? document["error"] : Json::object();
}

class EngineInAPage : public testing::Test {
 protected:
  EngineInAPage() { EXPECT_EQ(engine_.begin("keep", R"({"time_zones": ["America/Los_Angeles"]})"), Status::done); }
  Engine engine_{carried_library()};
};

TEST_F(EngineInAPage, RefusesWhatIsNoRequest) {
  for (const std::string& request : {std::string("{}\0", 3), std::string(1, '\0'), std::string(), std::string("{"),
                                     std::string("[1]"), std::string("null"), std::string("{\"as\": }"),
                                     std::string("{} {}"), std::string("\xff\xfe{}"), std::string("\xef\xbb\xbf{}")}) {
    EXPECT_EQ(error_of(engine_, "feed phases", request)["allowed"], "one object, its keys the fields of the request");
  }
  EXPECT_EQ(error_of(engine_, "checks", "[1]")["problem"], "the request is not a JSON object");
}

TEST_F(EngineInAPage, RefusesWhatIsTooLargeOrTooDeep) {
  EXPECT_EQ(error_of(engine_, "checks", std::string(kLargestRequest + 1, ' '))["allowed"], "128 MB");
  EXPECT_EQ(error_of(engine_, "checks", std::string(1'000'000, '['))["problem"], "the request is not JSON");
  const std::string deep = "{\"as\": " + std::string(1'000'000, '[') + std::string(1'000'000, ']') + "}";
  EXPECT_EQ(error_of(engine_, "checks", deep)["field"], "as");
  const Json far_too_long = {{"file", "g.toml"}, {"text", std::string(2'000'000, '#')}};
  EXPECT_EQ(error_of(engine_, "plan", Json{{"goal", far_too_long}, {"today", "2026-12-01"}}.dump())["file"], "g.toml");
}

TEST_F(EngineInAPage, KnowsNoOtherUseCase) {
  const Json error = error_of(engine_, "plam", "{}");
  EXPECT_EQ(error["problem"], "there is no use case \"plam\" (did you mean \"plan\"?)");
  EXPECT_NE(error["allowed"].get<std::string>().find("mix solution"), std::string::npos);
  EXPECT_EQ(error_of(engine_, std::string(5000, 'x'), "{}")["problem"].get<std::string>().size(), 83U);
}

TEST_F(EngineInAPage, NamesEveryFieldThatIsWrong) {
  const Json error =
      error_of(engine_, "plan", R"({"gaol": 1, "seeds": 0, "today": "tomorrow", "as": "pdf", "goal": {}})");
  std::set<std::string> fields = {error["field"]};
  for (const Json& other : error["others"]) fields.insert(other["field"]);
  EXPECT_EQ(fields, (std::set<std::string>{"gaol", "seeds", "today", "as", "goal"}));
  EXPECT_EQ(error_of(engine_, "plan", "{}")["problem"], "is missing");
}

TEST_F(EngineInAPage, TakesNoValueOfAnotherKind) {
  const std::string goal = R"("goal": {"file": "g", "text": ""}, "today": "2027-01-01")";
  for (const char* seeds : {"1.5", "-1", "1e99", "\"12\"", "[]", "true"}) {
    EXPECT_EQ(error_of(engine_, "plan", "{" + goal + ", \"seeds\": " + seeds + "}")["field"], "seeds") << seeds;
  }
  EXPECT_EQ(error_of(engine_, "plan", "{" + goal + ", \"random_seed\": -1}")["field"], "random_seed");
  const std::string record = R"("weather": {"file": "w.csv", "text": ""})";
  for (const char* other : {R"("latitude_deg": 91)", R"("bases_c": [5, 99])", R"("bases_c": 5)", R"("on_coast": 1)",
                            R"("columns": "tmax=HIGH")", R"("columns": [1])"}) {
    EXPECT_NE(error_of(engine_, "weather", "{" + record + ", " + other + "}")["field"], nullptr) << other;
  }
  EXPECT_EQ(error_of(engine_, "weather",
                     R"({"weather": {"file": "w.csv", "text": "date,tmin,tmax\n"},)"
                     R"( "date_order": "year-first"})")["field"],
            "date_order");
  EXPECT_EQ(error_of(engine_, "mix solution", R"({"stock": 1, "today": "2027-01-01"})")["field"], "stock");
}

TEST_F(EngineInAPage, SaysWhereAFileIsWrong) {
  std::string goal = small_goal();
  const Json error = error_of(engine_, "plan", plan_request(goal.erase(goal.find("ii\""), 1)));
  EXPECT_EQ(error["file"], "goal.toml");
  EXPECT_EQ(error["line"], 1);
  EXPECT_EQ(error["field"], "species");
  EXPECT_EQ(engine_.step(), Status::wrong);  // nothing was begun
}

TEST_F(EngineInAPage, CallsFieldsByTheNamesOfThePage) {
  const std::string asked = R"("stock": "1 % IBA", "solvent": "alcohol", "today": "2027-01-01")";
  const std::string plain = error_of(engine_, "mix solution", "{" + asked + "}")["message"];
  const std::string named = error_of(engine_, "mix solution",
                                     "{" + asked + R"(, "names": {"target": "Strength", "dose": "Drops"}})")["message"];
  EXPECT_EQ(plain.find("Strength"), std::string::npos);
  EXPECT_NE(named.find("Strength"), std::string::npos) << named;
}

TEST_F(EngineInAPage, PlansInStepsAndComesToTheAnswerOfTheUseCase) {
  Status status = engine_.begin("plan", plan_request(small_goal()));
  double done = -1;
  std::vector<std::string> stages;
  while (status == Status::going) {
    const Json progress = Json::parse(engine_.document());
    EXPECT_GE(progress["done"].get<double>(), done);
    EXPECT_FALSE(progress["what"].get<std::string>().empty());
    if (!progress["so_far"].is_null()) {
      stages.push_back(progress["stage"]);
      EXPECT_TRUE(progress["so_far"].contains("seeds"));
    }
    done = progress["done"];
    status = engine_.step();
  }
  ASSERT_EQ(status, Status::done) << engine_.document();
  EXPECT_EQ(stages, std::vector<std::string>{"dates"});

  nursery::Library library = carried_library();
  library.time_zones = {"America/Los_Angeles"};
  nursery::PlanRequest request;
  request.goal = {"goal.toml", small_goal()};
  request.today = make_date(2026, 12, 1);
  const auto answer = nursery::make_plan(request, library);
  ASSERT_TRUE(answer);
  EXPECT_EQ(engine_.document(), nursery::json_of(*answer));

  EXPECT_EQ(engine_.step(), Status::wrong);  // it is done
}

TEST_F(EngineInAPage, AWarmPlanIsTheColdOne) {
  const auto cold = [](const std::string& goal) {
    Engine other(carried_library());
    other.begin("keep", R"({"time_zones": ["America/Los_Angeles"]})");
    EXPECT_EQ(finish(other, other.begin("plan", plan_request(goal))), Status::done);
    return other.document();
  };
  const auto with = [](std::string goal, const std::string& old, const std::string& other) {
    return goal.replace(goal.find(old), old.size(), other);
  };
  ASSERT_EQ(finish(engine_, engine_.begin("plan", plan_request(small_goal()))), Status::done);
  for (const std::string& changed :
       {small_goal(14), with(small_goal(), "assurance = 0.8", "assurance = 0.9"),
        with(small_goal(), "standing = 0.9", "standing = 0.8"), with(small_goal(), "at_least = 18", "at_least = 20"),
        with(small_goal(), ", 2027-05-29", ""), small_goal()}) {
    EXPECT_EQ(finish(engine_, engine_.begin("plan", plan_request(changed))), Status::done);
    EXPECT_EQ(engine_.document(), cold(changed));
  }
}

TEST_F(EngineInAPage, AnswersQuicklyAtFirstWhenAskedAgain) {
  ASSERT_EQ(finish(engine_, engine_.begin("plan", plan_request(small_goal()))), Status::done);
  const int seeds = Json::parse(engine_.document())["seeds"];
  std::vector<std::string> stages;
  for (Status status = engine_.begin("plan", plan_request(small_goal(24))); status == Status::going;
       status = engine_.step()) {
    const Json progress = Json::parse(engine_.document());
    if (progress["so_far"].is_null()) continue;
    stages.push_back(progress["stage"]);
    EXPECT_GT(progress["so_far"]["seeds"], seeds);
  }
  EXPECT_EQ(stages, (std::vector<std::string>{"quick", "number", "dates"}));
}

TEST_F(EngineInAPage, StopsHalfWayAndStartsAnew) {
  ASSERT_EQ(engine_.begin("plan", plan_request(small_goal())), Status::going);
  ASSERT_EQ(engine_.step(), Status::going);
  engine_.stop();
  EXPECT_EQ(engine_.step(), Status::wrong);
  ASSERT_EQ(engine_.begin("plan", plan_request(small_goal(20))), Status::going);
  ASSERT_EQ(engine_.step(), Status::going);
  EXPECT_EQ(engine_.begin("plan", "{}"), Status::wrong);  // drops it too
  EXPECT_EQ(engine_.step(), Status::wrong);
  EXPECT_EQ(finish(engine_, engine_.begin("plan", plan_request(small_goal()))), Status::done);
  EXPECT_EQ(Json::parse(engine_.document())["wants"][0]["count_asked"], 12);
}

TEST_F(EngineInAPage, KeepsFilesUntilTheyAreTakenAway) {
  const std::string record = file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv");
  ASSERT_EQ(engine_.begin("keep", Json{{"files", {{"w.csv", record}, {"other", "x"}}}}.dump()), Status::done);
  EXPECT_EQ(Json::parse(engine_.document())["files"], (Json{"other", "w.csv"}));
  ASSERT_EQ(engine_.begin("weather", R"({"weather": "w.csv", "latitude_deg": 47.6})"), Status::done);
  EXPECT_EQ(Json::parse(engine_.document())["days"], 1461);

  std::string goal = small_goal();
  const std::size_t normals = goal.find("[place.normals]");
  goal.replace(normals, goal.find("[seedbed]") - normals, "weather = \"w.csv\"\n");
  EXPECT_EQ(engine_.begin("plan", plan_request(goal)), Status::going) << engine_.document();
  ASSERT_EQ(engine_.begin("keep", R"({"files": {"w.csv": null}})"), Status::done);
  EXPECT_EQ(Json::parse(engine_.document())["files"], Json{"other"});
  EXPECT_EQ(error_of(engine_, "plan", plan_request(goal))["field"], "place.weather");
  EXPECT_EQ(error_of(engine_, "weather", R"({"weather": "w.csv"})")["field"], "weather");
}

TEST_F(EngineInAPage, SaysWhatThereIsToChooseFrom) {
  ASSERT_EQ(engine_.begin("choices", "{}"), Status::done) << engine_.document();
  const Json choices = Json::parse(engine_.document());
  EXPECT_EQ(choices["species"].size(), 5U);
  EXPECT_EQ(choices["methods"][1]["id"], "square-cut");
  EXPECT_EQ(choices["methods"][1]["base_form"], "radial");
  EXPECT_EQ(choices["materials"].size(), 10U);
  EXPECT_GT(choices["notes"].size(), 20U);
}

TEST_F(EngineInAPage, AnswersAsWordsAndAsAPage) {
  const std::string feed = R"({"fertilisers": ["20-10-20"], "target": "100 N", "as": )";
  ASSERT_EQ(engine_.begin("mix feed", feed + "\"words\"}"), Status::done);
  EXPECT_NE(engine_.document().find("Weigh"), std::string::npos) << engine_.document();
  EXPECT_EQ(error_of(engine_, "mix feed", feed + "\"page\"}")["field"], "as");
  std::string plan = plan_request(small_goal());
  plan.insert(1, R"("as": "page", )");
  ASSERT_EQ(finish(engine_, engine_.begin("plan", plan)), Status::done);
  EXPECT_TRUE(engine_.document().starts_with("<!DOCTYPE html>")) << engine_.document().substr(0, 100);
}

TEST_F(EngineInAPage, PutsThePlanThatItHasInAnotherFormAtOnce) {
  const std::string asked = plan_request(small_goal());
  const auto as = [&](const char* form) { return std::string(asked).insert(1, fmt::format(R"("as": "{}", )", form)); };
  ASSERT_EQ(finish(engine_, engine_.begin("plan", asked)), Status::done);
  const std::string plan = engine_.document();
  EXPECT_EQ(engine_.begin("plan", as("page")), Status::done);
  EXPECT_EQ(engine_.begin("plan", as("words")), Status::done);
  EXPECT_EQ(engine_.begin("plan", as("json")), Status::done);
  EXPECT_EQ(engine_.document(), plan);
  EXPECT_EQ(engine_.begin("plan", as("pdf")), Status::wrong);
  EXPECT_EQ(engine_.begin("plan", plan_request(small_goal(13))), Status::going);
  engine_.stop();
  EXPECT_EQ(engine_.begin("plan", asked), Status::going);  // the one that it has is another's beginning
  ASSERT_EQ(finish(engine_, Status::going), Status::done);
  ASSERT_EQ(engine_.begin("keep", "{}"), Status::done);
  EXPECT_EQ(engine_.begin("plan", asked), Status::going);  // files that it was made of may be others
}

TEST_F(EngineInAPage, RunsThePublishedChecks) {
  const std::string request = file_text(CHECKS_REQUEST);
  ASSERT_EQ(engine_.begin("checks", request), Status::done) << engine_.document();
  const Json checks = Json::parse(engine_.document());
  EXPECT_GT(checks["total"].get<int>(), 200);
  EXPECT_EQ(checks["held"], checks["total"]);

  Json without_records = Json::parse(request);
  ASSERT_EQ(without_records["files"].erase("seattle-hourly-normals.txt"), 1U);
  ASSERT_EQ(engine_.begin("checks", without_records.dump()), Status::done);
  const Json fewer = Json::parse(engine_.document());
  EXPECT_EQ(fewer["total"], checks["total"]);
  EXPECT_LT(fewer["held"], fewer["total"]);
  for (const Json& check : fewer["checks"]) {
    if (check["holds"]) continue;
    EXPECT_NE(check["problem"].get<std::string>().find("there is no such file"), std::string::npos) << check;
  }
  EXPECT_EQ(error_of(engine_, "checks", R"({"files": {"a.txt": ""}})")["field"], "files");
}

/// The invented nursery's third season, and its weather.
class DaybookInAPage : public EngineInAPage {
 protected:
  DaybookInAPage() {
    give(engine_);
    fold_.add(daybook::read_document(document_)->entries);
    asked_.today = make_date(2026, 6, 28);
    asked_.weather = nursery::Text{"weather.csv", weather_};
  }
  void give(Engine& engine) const {
    EXPECT_EQ(engine.begin("daybook", Json{{"document", document_}}.dump()), Status::done) << engine.document();
  }
  Json ask(Engine& engine, std::string_view use_case, const Json& request) const {
    EXPECT_EQ(finish(engine, engine.begin(use_case, request.dump())), Status::done) << engine.document();
    return Json::parse(engine.document(), nullptr, false);
  }
  std::string document_ = file_text(SOURCE_DIR "/demo/three-seasons.json");
  std::string weather_ = file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv");
  daybook::Fold fold_;
  nursery::DaybookRequest asked_;
  const Json request_ = {{"weather", {{"file", "weather.csv"}, {"text", weather_}}}, {"today", "2026-06-28"}};
};

TEST_F(DaybookInAPage, AnswersAsTheUseCasesDo) {
  const Json again = ask(engine_, "daybook", {{"document", document_}});
  EXPECT_EQ(again["new"], 0);
  EXPECT_EQ(again["entries"], fold_.size());
  nursery::Library library = carried_library();
  library.time_zones = {"America/Los_Angeles"};
  ask(engine_, "batches", Json::object());
  EXPECT_EQ(engine_.document(), *nursery::batches_json(fold_, ""));
  ask(engine_, "batches", {{"code", "MW38K"}});
  EXPECT_EQ(engine_.document(), *nursery::batches_json(fold_, "MW38K"));
  ASSERT_EQ(engine_.begin("batches", R"({"code": "MW38K", "as": "words"})"), Status::done);
  EXPECT_EQ(engine_.document(), *nursery::batches_words(fold_, "MW38K", kUsualWidth));
  ask(engine_, "today", request_);
  EXPECT_EQ(engine_.document(), nursery::json_of(*nursery::today(asked_, fold_, library)));
  ask(engine_, "profile", request_);
  EXPECT_EQ(engine_.document(), nursery::json_of(*nursery::own_profile(asked_, fold_, library)));
  ASSERT_EQ(engine_.begin("forecast", request_.dump()), Status::going);
  const Json so_far = Json::parse(engine_.document())["so_far"];
  EXPECT_TRUE(so_far["possible"].is_null());
  ASSERT_EQ(engine_.step(), Status::done);
  EXPECT_EQ(Json::parse(engine_.document())["assurance"], so_far["assurance"]);
  EXPECT_EQ(engine_.step(), Status::wrong);
  ask(engine_, "forecast", request_);
  EXPECT_EQ(engine_.document(), nursery::json_of(*nursery::forecast(asked_, fold_, library)));
  EXPECT_EQ(error_of(engine_, "batches", R"({"code": "ZZZZZ"})")["problem"].get<std::string>().substr(0, 8),
            "there is");
  EXPECT_EQ(engine_.begin("daybook", R"({"anew": true, "document": "{"})"), Status::wrong);
  EXPECT_EQ(ask(engine_, "daybook", Json::object())["entries"], fold_.size());  // nothing is lost
  EXPECT_EQ(ask(engine_, "daybook", {{"anew", true}})["entries"], 0);
  EXPECT_EQ(error_of(engine_, "forecast", request_.dump())["problem"], "there is no goal in the daybook");
}

TEST_F(DaybookInAPage, NotesAreUnderstoodKeptAndTakenBack) {
  std::string random;
  for (int k = 0; k < 1024; ++k) random += "0123456789abcdef"[(k * k + 3 * k / 7) % 16];
  Json note = {{"words", {"count", "MW38K", "rooted", "9", "of", "11"}},
               {"device", "phone"},
               {"now", "2026-06-28T09:30:00.000-07:00"},
               {"random", random}};
  const Json noted = ask(engine_, "note", note);
  ASSERT_EQ(noted["entries"].size(), 1U);
  EXPECT_EQ(noted["batches"][0]["code"], "MW38K");
  const Json entry = Json::parse(noted["entries"][0]["entry"].get<std::string>());
  EXPECT_EQ(entry["happened"], "2026-06-28T09:30:00.000-07:00");
  EXPECT_EQ(entry["id"].get<std::string>().substr(0, 16), random.substr(0, 16));
  EXPECT_EQ(ask(engine_, "daybook", Json::object())["entries"], fold_.size() + 1);
  ASSERT_EQ(engine_.begin("daybook", Json{{"entries", {"{}", noted["entries"][0]["entry"]}}}.dump()), Status::wrong);
  EXPECT_EQ(Json::parse(engine_.document())["error"]["line"], 1);
  note["undo"] = true;
  note["words"] = Json::array();
  std::ranges::reverse(random);
  note["random"] = random;
  EXPECT_EQ(ask(engine_, "note", note)["entries"].size(), 1U);
  note["undo"] = false;
  note["words"] = {"count", "MW38K", "rootd", "9"};
  EXPECT_FALSE(error_of(engine_, "note", note.dump())["problem"].get<std::string>().empty());
  note["random"] = "12";
  EXPECT_EQ(error_of(engine_, "note", note.dump())["field"], "random");
  note["random"] = random;
  note["now"] = "today";
  EXPECT_EQ(error_of(engine_, "note", note.dump())["field"], "now");
}

TEST_F(DaybookInAPage, ANoteIsTypedAsOneLine) {
  Json note = {{"line", "remark MW38K \"needles pale, the grower's own eye\""},
               {"device", "phone"},
               {"now", "2026-06-28T09:30:00.000-07:00"},
               {"random", std::string(1024, 'a')}};
  const Json noted = ask(engine_, "note", note);
  EXPECT_EQ(Json::parse(noted["entries"][0]["entry"].get<std::string>())["body"]["text"],
            "needles pale, the grower's own eye");
  note["line"] = "remark \"open";
  EXPECT_EQ(error_of(engine_, "note", note.dump())["problem"], "a quotation mark is opened and not closed");
}

TEST_F(EngineInAPage, NotesThePlanAndItsGoal) {
  const Json by = {{"name", "autumn 2027"},
                   {"device", "laptop"},
                   {"now", "2026-12-01T09:30:00.000-08:00"},
                   {"random", std::string(1024, 'b')}};
  EXPECT_EQ(error_of(engine_, "note plan", by.dump())["problem"], "there is no plan to note");
  ASSERT_EQ(finish(engine_, engine_.begin("plan", plan_request(small_goal()))), Status::done);
  ASSERT_EQ(engine_.begin("note plan", by.dump()), Status::done) << engine_.document();
  const Json noted = Json::parse(engine_.document());
  ASSERT_EQ(noted["entries"].size(), 2U);
  const Json goal = Json::parse(noted["entries"][0]["entry"].get<std::string>());
  EXPECT_EQ(goal["body"]["name"], "autumn 2027");
  EXPECT_EQ(goal["body"]["goal_toml"], small_goal());
  EXPECT_EQ(Json::parse(noted["entries"][1]["entry"].get<std::string>())["kind"], "plan_chosen");
  ASSERT_EQ(engine_.begin("today", R"({"today": "2026-12-02"})"), Status::done) << engine_.document();
  EXPECT_EQ(Json::parse(engine_.document())["goal"], "autumn 2027");
}

TEST_F(DaybookInAPage, TwoPagesComeToTheSameSet) {
  Engine other(carried_library());
  Json message = ask(other, "exchange", Json::object())["message"];
  Json kept = Json::array();
  for (int turn = 0; !message.is_null() && turn < 20; ++turn) {
    const Json answer = ask(turn % 2 == 0 ? engine_ : other, "exchange", {{"message", message}});
    for (const Json& entry : answer["kept"]) kept.push_back(entry);
    message = answer["message"];
  }
  EXPECT_TRUE(message.is_null());
  EXPECT_EQ(ask(other, "daybook", Json::object())["entries"], fold_.size());
  EXPECT_EQ(kept.size(), fold_.size());
  Engine third(carried_library());
  EXPECT_EQ(ask(third, "daybook", {{"entries", kept}})["new"], fold_.size());
  ask(third, "batches", Json::object());
  EXPECT_EQ(third.document(), *nursery::batches_json(fold_, ""));
  ask(other, "batches", Json::object());
  EXPECT_EQ(other.document(), *nursery::batches_json(fold_, ""));
}

/// The names in the first column of the tables under a heading of docs/browser.md.
std::set<std::string> documented_fields(const std::string& heading) {
  static const std::string page = file_text(SOURCE_DIR "/docs/browser.md");
  std::set<std::string> fields;
  const std::size_t start = page.find("\n### " + heading + "\n");
  if (start == std::string::npos) return fields;
  const std::size_t end = page.find("\n##", start + 1);
  for (std::size_t row = page.find("\n| `", start); row < end; row = page.find("\n| `", row + 1)) {
    const std::string names = page.substr(row + 3, page.find(" |", row + 3) - row - 3);
    for (std::size_t open = names.find('`'); open != std::string::npos;) {
      const std::size_t close = names.find('`', open + 1);
      fields.insert(names.substr(open + 1, close - open - 1));
      open = names.find('`', close + 1);
    }
  }
  return fields;
}

TEST_F(EngineInAPage, HasTheFieldsThatAreDocumented) {
  for (const char* use_case : {"keep", "choices", "plan", "weather", "mix solution", "mix disinfectant", "mix medium",
                               "mix feed", "feed phases", "daybook", "note", "note plan", "exchange", "batches",
                               "today", "forecast", "profile", "checks"}) {
    std::set<std::string> documented = documented_fields(use_case);
    documented.insert({"as", "names"});
    EXPECT_EQ(known_fields(engine_, use_case), documented) << use_case;
  }
}

TEST(EngineExports, HandTextsInAndOut) {
  const std::string use_case = "mix feed";
  const std::string request = R"({"fertilisers": ["20-10-20"], "target": "100 N"})";
  char* room = strikebed_room(request.size());
  ASSERT_NE(room, nullptr);
  request.copy(room, request.size());
  EXPECT_EQ(strikebed_begin(use_case.data(), use_case.size(), room, request.size()), 0);
  strikebed_free(room);
  const Json document = Json::parse(std::string_view(strikebed_document(), strikebed_document_bytes()));
  EXPECT_EQ(document["weigh"].size(), 1U);
  EXPECT_EQ(strikebed_step(), 1);
  strikebed_stop();
  strikebed_free(strikebed_room(0));
}

}  // namespace
}  // namespace strikebed::browser
