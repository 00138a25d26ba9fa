// A plan asked for again as one changes the goal, and the weather since a sowing that lies behind.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "nursery/make_plan.hpp"
#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

/// A small goal on a record made up here: ten whole years and the spring of 2027.
std::string goal_text(const std::string& changed) {
  return "species = \"pinus-thunbergii\"\nby = 2027-10-01\n" + changed +
         "\n[place]\nlatitude = 47.6\nlongitude = -122.3\nelevation_m = 20\nweather = \"made-up.csv\"\n"
         "[seedbed]\nair = \"outdoor\"\nat_least = 18\n"
         "[sessions]\nweekdays = [\"Saturday\"]\n"
         "[[want]]\nbase_form = \"radial\"\ncount = 10\n";
}

std::string made_up_weather(Date last, int warmer_in_2027) {
  std::string text = "date,tmin,tmax\n";
  for (Date date = make_date(2016, 1, 1); date <= last; date += Days{1}) {
    const int summer = 183 - std::abs(day_of_year(date) - 200) % 183;
    const int tmin = summer / 15 + static_cast<int>((date.time_since_epoch().count() * 7919) % 5) +
                     (year_of(date) == 2027 ? warmer_in_2027 : 0);
    text += to_iso(date) + "," + std::to_string(tmin) + "," + std::to_string(tmin + 8) + "\n";
  }
  return text;
}

Library library_with(const std::string& weather) {
  Library library = shipped_library();
  library.own_file = [weather](const std::string& path) -> Result<Text> {
    if (path == "made-up.csv") return Text{path, weather};
    return Error{.problem = "there is no such file", .file = path};
  };
  return library;
}

PlanRequest request(const std::string& changed, Date today = make_date(2026, 12, 1)) {
  PlanRequest asked;
  asked.goal = {"goal.toml", goal_text(changed)};
  asked.today = today;
  return asked;
}

season::Plan worked(Planner& planner) {
  for (auto steps = planner.work(); steps.next();) {
  }
  return planner.answer().plan;
}

// Asked again after a change, the plan of the new goal; after one that cannot be read, the error and nothing else.
TEST(Planner, AnswersEachGoalAsIfItWereTheFirst) {
  const Library library = library_with(made_up_weather(make_date(2026, 11, 30), 0));
  Planner planner(library);
  ASSERT_FALSE(planner.ask(request("assurance = 0.8")));
  const season::Plan first = worked(planner);
  EXPECT_TRUE(first.met);

  const auto wrong = planner.ask(request("assurance = 1.2"));
  ASSERT_TRUE(wrong.has_value());
  EXPECT_EQ(wrong->field, "assurance");
  EXPECT_EQ(planner.answer().plan, first) << "what was asked before stays";

  ASSERT_FALSE(planner.ask(request("assurance = 0.9")));
  const season::Plan again = worked(planner);
  EXPECT_GT(again.seeds, first.seeds);
  const auto fresh = make_plan(request("assurance = 0.9"), library);
  ASSERT_TRUE(fresh.ok());
  EXPECT_EQ(again.sow_dates, fresh->plan.sow_dates);
  EXPECT_EQ(again.seeds, fresh->plan.seeds);
  EXPECT_EQ(again, fresh->plan);
}

// Sown in March and asked in May: what the record holds of the days between is used, so a warm spring and a cold one
// give other dates; and the answer says so.
TEST(Planner, UsesTheWeatherSinceASowing) {
  const Date today = make_date(2027, 5, 1);
  const auto goal = [&](int warmer) {
    PlanRequest asked = request("", today);
    asked.goal.text = goal_text("assurance = 0.8") + "[sowing]\non = 2027-03-01\n";
    std::size_t at = asked.goal.text.find("at_least = 18\n");
    asked.goal.text.erase(at, std::string("at_least = 18\n").size());
    const auto answer = make_plan(asked, library_with(made_up_weather(make_date(2027, 4, 30), warmer)));
    EXPECT_TRUE(answer.ok()) << answer.error().message();
    const auto& assumed = answer->assumed;
    EXPECT_TRUE(std::ranges::any_of(assumed, [](const std::string& one) {
      return one.find("as recorded up to Fri 30 Apr 2027") != std::string::npos;
    }));
    return answer->plan;
  };
  const season::Plan warm = goal(5);
  const season::Plan cold = goal(-2);
  EXPECT_LT(warm.count_date + Days{10}, cold.count_date);
}

}  // namespace
}  // namespace strikebed::nursery
