// The sowings of a plan in words: the goal's own, and what comes on top.
#include "print/plan/lot_words.hpp"

#include <gtest/gtest.h>

#include <string>

#include "print/plan/answer_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"
#include "tests/print/example_plan.hpp"

namespace strikebed::print {
namespace {

using season::CalendarKind;

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// A skin's names for its controls.
std::string controls(std::string_view field) {
  return field == "sessions.cuttings_at_most" ? "Cuttings" : field == "sessions.hours_at_most" ? "Hours" : "";
}

/// 150 seeds of lot A in the bed, 200 of lot B to come, and 412 of lot C on top.
struct ThreeLots {
  season::Goal goal = example_goal();
  season::Plan plan = example_plan();
  ThreeLots() {
    const auto lot = [](const char* name, int chill_days) {
      season::Lot made;
      made.name = name;
      made.chill_days = chill_days;
      return made;
    };
    goal.today = make_date(2027, 3, 20);
    goal.lot = lot("C", 45);
    goal.sown = {{make_date(2027, 3, 6), 150, lot("A", 0), {}}, {make_date(2027, 4, 10), 200, lot("B", 60), {}}};
    plan.sowings[0].chill_start = make_date(2027, 2, 17);
    plan.sowings.insert(plan.sowings.begin(), {{.own = 0,
                                                .on = make_date(2027, 3, 6),
                                                .seeds = 150,
                                                .chill_start = {},
                                                .up = {},
                                                .count_date = make_date(2027, 4, 12),
                                                .emerged = {90, 110, 125}},
                                               {.own = 1,
                                                .on = make_date(2027, 4, 10),
                                                .seeds = 200,
                                                .chill_start = make_date(2027, 2, 9),
                                                .up = {},
                                                .count_date = make_date(2027, 5, 20),
                                                .emerged = {20, 60, 99}}});
    plan.needs.seed = {{"B", 200, 2.67}, {"C", 412, 5.49}};
  }
};

TEST(LotWords, NameEachSowing) {
  const ThreeLots of;
  const std::string said = plain_spaces(plain(answer(of.goal, of.plan)));
  EXPECT_TRUE(said.starts_with(
      "You have sown 150 seeds of lot A on Sat 6 Mar 2027. You mean to sow 200 seeds of lot B on Sat 10 Apr 2027 (in "
      "the cold since Tue 9 Feb 2027). On top, sow 412 seeds of lot C (5.5 g) on Sat 3 Apr 2027, in the cold since Wed "
      "17 Feb 2027. You are then 90 % sure of at least 60 radial and 8 single-root weaned by Fri 1 Oct 2027. Between "
      "398 and 428 seeds on top the calculation cannot tell apart."))
      << said;
  const std::vector<SowingRow> rows = sowing_rows(of.goal, of.plan);
  ASSERT_EQ(rows.size(), 3U);
  const auto line = [&](std::size_t i) {
    const SowingRow& row = rows[i];
    return plain_spaces(row.lot + "|" + row.sown + "|" + row.seeds + "|" + row.chilled + "|" + row.alive);
  };
  EXPECT_EQ(line(0), "A|Sat 6 Mar 2027|150|not at all|110 (90 to 125) on Mon 12 Apr 2027");
  EXPECT_EQ(line(1), "C|Sat 3 Apr 2027 (on top)|412|Wed 17 Feb 2027|322 (265 to 361) on Sat 8 May 2027");
  EXPECT_EQ(line(2), "B|Sat 10 Apr 2027 (yours)|200|Tue 9 Feb 2027|60 (20 to 99) on Thu 20 May 2027");
  EXPECT_TRUE(sowing_rows(example_goal(), example_plan()).empty()) << "one sowing stands in the calendar";
  const auto said_on = [&](CalendarKind kind) {
    const Date day = make_date(2027, 4, 10);
    return plain_spaces(calendar_words(of.goal, of.plan, {kind, {day, day, day}, 1, {}}));
  };
  EXPECT_EQ(said_on(CalendarKind::chill),
            "Soak 200 seeds of lot B (2.7 g) for a day, drain, and chill moist at 1-5 °C for 60 days, until they are "
            "sown on Sat 10 Apr; look weekly for mould");
  EXPECT_EQ(said_on(CalendarKind::sow), "Sow 200 seeds of lot B (2.7 g), 5-8 mm deep, grit over them");
  EXPECT_EQ(said_on(CalendarKind::count), "Count the seedlings of lot B sown on Sat 10 Apr: about 60 alive (20 to 99)");
  const std::vector<Need> needs = need_list(of.goal, of.plan);
  EXPECT_EQ(needs[0].what, "Seed, lot B");
  EXPECT_EQ(needs[1].what, "Seed, lot C");
  season::Unknown unknown;
  unknown.quantity = season::ChainQuantity::germination;
  unknown.lot = "B";
  EXPECT_EQ(unknown_name(of.goal, unknown), "germination (lot B)");
}

TEST(LotWords, SayWhereNothingNeedComeOnTop) {
  ThreeLots of;
  of.plan.seeds = of.plan.seeds_low = of.plan.seeds_high = 0;
  of.plan.sow_dates.clear();
  of.plan.sowings.pop_back();
  EXPECT_TRUE(holds(plain_spaces(plain(answer(of.goal, of.plan))),
                    "Nothing need be sown on top: with these you are 90 % sure of at least 60 radial and 8 "
                    "single-root weaned by Fri 1 Oct 2027. Keep 8 days free"));
  of.plan.met = false;
  of.plan.assurance = 0.4;
  EXPECT_TRUE(holds(plain_spaces(plain(answer(of.goal, of.plan))),
                    "More seed would hardly help: with what you sow yourself you are 40 % sure. Keep"));
}

TEST(LotWords, SayWhyThereAreNoMoreSowings) {
  season::Goal goal = example_goal();
  goal.sessions.sowings_at_most = 3;
  season::Plan plan = example_plan();
  const auto said_of = [&](const season::Stagger& stagger) {
    plan.stagger = stagger;
    return plain_spaces(stagger_words(goal, plan, controls));
  };
  using Why = season::Stagger::Why;
  EXPECT_EQ(said_of({.why = Why::day_said}), "One sowing, though 3 may be: the sowing day is yours.");
  EXPECT_EQ(said_of({.why = Why::room_for_all}),
            "One sowing, though 3 may be: each session has room for all that are ready, so that a second sowing would "
            "only come later. Sowings are staggered where a session holds no more than you say (Cuttings or Hours).");
  EXPECT_EQ(said_of({.why = Why::none_better, .seeds = 412, .rarely_full = true}),
            "One sowing, though 3 may be: the sessions are hardly ever full, and one more, a week to three weeks "
            "apart, needs no fewer seeds.");
  EXPECT_EQ(said_of({.why = Why::saves_little, .seeds = 412, .seeds_with_more = 408}),
            "One sowing, though 3 may be: with one more it would take about 408 instead of 412 seeds. One more is "
            "planned where it saves 2 % or more.");
  plan.stagger.reset();
  EXPECT_EQ(stagger_words(goal, plan, controls), "");
}

}  // namespace
}  // namespace strikebed::print
