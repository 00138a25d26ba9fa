#include "print/plan/plan_text.hpp"

#include <gtest/gtest.h>

#include <limits>
#include <set>

#include "base/whole_parts.hpp"
#include "print/number_words.hpp"
#include "print/plan/answer_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/text_table.hpp"
#include "tests/print/example_plan.hpp"

namespace strikebed::print {
namespace {

bool holds(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

/// The text with its line breaks and indents folded, so that a sentence is found however it was wrapped.
std::string folded(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const char plain = c == '\n' ? ' ' : c;
    if (plain != ' ' || out.empty() || out.back() != ' ') out += plain;
  }
  return out;
}

std::string answer_words(const season::Goal& goal, const season::Plan& plan) {
  return plain_spaces(plain(answer(goal, plan)));
}

season::Goal one_want() {
  season::Goal goal = example_goal();
  goal.wants.resize(1);
  return goal;
}

}  // namespace

// Covers  the sentence at the top. Ref  the invented plan; the wording is ours and reviewed when it changes.
TEST(PlanText, SaysTheAnswerInSentences) {
  EXPECT_EQ(
      answer_words(example_goal(), example_plan()),
      "Sow 412 seeds (5.5 g) on Sat 3 Apr 2027, put to chill on Wed 17 Feb 2027. "
      "You are then 90 % sure of at least 60 radial and 8 single-root weaned by Fri 1 Oct 2027. "
      "Between 398 and 428 seeds the calculation cannot tell apart. "
      "Keep 8 days free for striking, from Sat 22 May 2027 to Sun 13 Jun 2027, and be ready for up to 262 cuttings "
      "in all.");
}

TEST(PlanText, LeavesOutChillingWhereNoneIsNeeded) {
  season::Goal goal = one_want();
  goal.lot.chill_days = 0;
  season::Plan plan = example_plan();
  plan.sowings[0].chill_start.reset();
  EXPECT_TRUE(answer_words(goal, plan)
                  .starts_with("Sow 412 seeds (5.5 g) on Sat 3 Apr 2027. You are then 90 % sure of at least 60 "
                               "radial weaned by Fri 1 Oct 2027. "));
}

TEST(PlanText, NamesEverySowingOfSeveral) {
  season::Plan plan = example_plan();
  const Days later{14};
  plan.sowings.push_back(plan.sowings[0]);
  for (season::SowingPlan& sowing : plan.sowings) sowing.seeds = 206;
  plan.sowings[1].on += later;
  *plan.sowings[1].chill_start += later;
  EXPECT_TRUE(
      holds(answer_words(example_goal(), plan),
            "Sow 412 seeds (5.5 g) in 2 sowings: 206 on Sat 3 Apr 2027 (put to chill on Wed 17 Feb 2027) and 206 on "
            "Sat 17 Apr 2027 (put to chill on Wed 3 Mar 2027). "));
}

// Covers  --seeds N, with fewer and with more seeds than are needed (412 on the same date, from the sweep).
TEST(PlanText, SaysHowSureTheSeedsInHandAre) {
  season::Goal goal = example_goal();
  goal.seeds_in_hand = 300;
  season::Plan plan = example_plan();
  plan.met = false;
  plan.seeds = 300;
  plan.assurance = 0.7833;
  plan.needs.seed_grams = 4.0;
  EXPECT_TRUE(answer_words(goal, plan)
                  .starts_with("With 300 seeds (4 g) on Sat 3 Apr 2027, put to chill on Wed 17 Feb 2027, you can be 78 "
                               "% sure of at least "
                               "60 radial and 8 single-root weaned by Fri 1 Oct 2027. That is less than the 90 % you "
                               "asked for: for that, sow 412 "
                               "seeds. "));
  goal.seeds_in_hand = 500;
  plan.met = true;
  plan.seeds = 500;
  plan.assurance = 0.9437;
  EXPECT_TRUE(holds(answer_words(goal, plan), "you can be 94 % sure"));
  EXPECT_TRUE(holds(answer_words(goal, plan), "That is as sure as you asked to be (90 %); 412 seeds would do. "));
}

TEST(PlanText, SaysThatAGoalCannotBeMetAndWhatCan) {
  const std::string text = folded(plan_text(example_goal(), unmet_plan(), {}));
  EXPECT_TRUE(
      holds(text,
            "This goal cannot be met as it stands: not even 13600 seeds make you 90 % sure of at least 60 radial and 8 "
            "single-root weaned by Fri 1 Oct 2027. The plan below makes the most of it as it stands: sow 1400 seeds"));
  EXPECT_TRUE(
      holds(text,
            "room: there is room for 48 cuttings a session, 432 in the 9 sessions that could be held; with room "
            "for all it would be 83 % sure instead of 74 %"));
  EXPECT_TRUE(holds(text, "date: the date comes too soon; by Fri 5 Nov 2027 the goal can be met with about 520 seeds"));
  EXPECT_TRUE(holds(text, "Fewer: 41 radial and 5 single-root, weaned by Fri 1 Oct 2027, 90 % sure."));
  EXPECT_TRUE(holds(text, "Later: 60 radial and 8 single-root, weaned by Fri 5 Nov 2027, 90 % sure."));
  EXPECT_TRUE(
      holds(text, "Less sure: 60 radial and 8 single-root, weaned by Fri 1 Oct 2027, 74 % sure, from 13600 seeds."));
  EXPECT_TRUE(holds(
      text,
      "No sowing date meets the goal, not even with 13600 seeds; how sure those would make you is said here. Best "
      "on"));
  EXPECT_TRUE(holds(text, "74 % sure."));
}

// Covers  a goal that is left unsown offers no plan, and no nearest goal that is under 1 % sure; what stands in the way
// is said, also where nothing helps.
TEST(PlanText, OffersNothingHopeless) {
  season::Plan plan = empty_plan();
  plan.nearest.assurance = 0.0001;
  plan.limits = {{.kind = season::LimitKind::room, .sessions = 9},
                 {.kind = season::LimitKind::date, .date = make_date(2028, 5, 28)}};
  const std::string text = folded(plan_text(example_goal(), plan, {}));
  EXPECT_FALSE(holds(text, "makes the most of it"));
  EXPECT_FALSE(holds(text, "percentage points")) << "nothing was told";
  EXPECT_FALSE(holds(text, "free for striking"));
  EXPECT_FALSE(holds(text, "What can be met instead"));
  EXPECT_TRUE(
      holds(text,
            " - room: there is room for 48 cuttings a session, 432 in the 9 sessions that could be held - date: "
            "by Sun 28 May 2028 it cannot be met either "));
}

// Covers  a plan whose seed number is the price of something else says so, before the numbers are believed.
TEST(PlanText, SaysWhenSeedIsNotWhatIsShort) {
  season::Plan plan = example_plan();
  EXPECT_FALSE(holds(answer_words(example_goal(), plan), "Seed is not"));
  plan.half = season::CurvePoint{206, 0.872};
  plan.limits = unmet_plan().limits;
  EXPECT_TRUE(holds(answer_words(example_goal(), plan),
                    "Seed is not what is short: half as many, 206 seeds, already make you 87 % sure. See below what "
                    "limits this plan."));
  EXPECT_TRUE(holds(plan_text(example_goal(), plan, {}), "What limits this plan"));
}

// Covers  a share that is short of what was asked never reads as if it were enough.
TEST(PlanText, NeverRoundsAShortfallAway) {
  EXPECT_EQ(plain_spaces(percent_beside(0.8996, 0.9)), "89.9 %");
  EXPECT_EQ(plain_spaces(percent_beside(0.9004, 0.9)), "90 %");
  EXPECT_EQ(plain_spaces(percent_beside(0.8951, 0.9)), "89.5 %");
  EXPECT_EQ(plain_spaces(percent(0.994)), "99.4 %");
  EXPECT_EQ(plain_spaces(percent(0.99996)), "over 99.9 %");
  EXPECT_EQ(plain_spaces(percent(1.0)), "100 %");
  EXPECT_EQ(plain_spaces(percent(0.001)), "under 1 %");
  EXPECT_EQ(plain_spaces(percent(0.0)), "0 %");
}

// Covers  what must be bought or mixed is rounded up, in steps of 0.01, 0.1 and 1.
TEST(PlanText, NeverRoundsANeedDown) {
  EXPECT_EQ(rounded_up(5.41), "5.5");
  EXPECT_EQ(rounded_up(102.0), "102");
  EXPECT_EQ(rounded_up(102.1), "103");
  EXPECT_EQ(rounded_up(0.301), "0.31");
  EXPECT_EQ(rounded_up(0.3), "0.3");
  EXPECT_EQ(rounded(5.49), "5.5");
}

TEST(PlanText, ShowsEveryPart) {
  const std::string text = plan_text(example_goal(), example_plan(), example_notes());
  for (const std::string part :
       {"Calendar", "Days at the bench", "The season", "What to expect", "How sure with other numbers of seeds",
        "If you sow on another day", "What not knowing costs", "What it needs", "What was assumed", "Take care",
        "Weather"}) {
    EXPECT_TRUE(holds(text, "── " + part)) << part;
  }
  EXPECT_TRUE(holds(text, "Sat 5 Jun   Sat 12 Jun  Sun 13 Jun  [ ] Last sessions\n"));
  EXPECT_TRUE(holds(text, "  Sat 29 May 2027   14       41    48      36            5   2.8 h\n"));
  EXPECT_TRUE(holds(text, "    412      90 %  ██████████████████ ◄ this plan\n"));
  EXPECT_TRUE(holds(text, "  Sat 3 Apr 2027     412  ███████ ◄ chosen\n"));
  EXPECT_TRUE(holds(text, "  take (radial)  65 (30 to 90) %"));
  EXPECT_LT(text.find("take (radial)"), text.find("germination    82"));
  EXPECT_TRUE(holds(text, "  Coarse sand 0.5-1 mm     2.7 L  for the pockets, 3.9 kg dry\n"));
  EXPECT_TRUE(holds(text, "  Your stock               12 mL  1.3 mL, about 68 drops, in each filling,"));
  EXPECT_TRUE(holds(text, "silica"));
  EXPECT_TRUE(holds(text, "Money                   193.50"));
}

// Covers  the chart puts each band on the same cells for the same days: the row of the sowing has its one mark under
// the month it is in.
TEST(PlanText, DrawsTheSeasonOverTheMonths) {
  const std::string text = plan_text(example_goal(), example_plan(), {});
  EXPECT_TRUE(holds(text, "                  Feb   Mar    Apr    May    Jun    Jul    Aug    Sep   Oct\n"));
  EXPECT_TRUE(holds(text, "  sowing          ·     ·      ■      ·"));
  EXPECT_TRUE(holds(text, "  cutting window  ·     ·      ·      ·  ━━━━●━━━━  ·"));
  EXPECT_TRUE(holds(text, "by 1 Oct\n"));
}

// Covers  many likely days: those of a typical season in the table, the others in a sentence and as open blocks.
TEST(PlanText, SumsUpManyDays) {
  season::Plan plan = example_plan();
  plan.sessions.clear();
  for (int day = 0; day < 30; ++day)
    plan.sessions.push_back({make_date(2027, 5, 1) + Days{day}, {0, day == 9 ? 4.0 : 0.0, 5}, {0, 0}, 0.1});
  const std::string text = plan_text(one_want(), plan, {});
  EXPECT_TRUE(holds(text, "  Mon 10 May 2027    0        4     5  6 min\n"));
  EXPECT_FALSE(holds(text, "  Tue 11 May 2027    0"));
  EXPECT_TRUE(holds(folded(text), "On 29 more days, from Sat 1 May 2027 to Sun 30 May 2027, some may be ready"));
  EXPECT_TRUE(holds(text, "□■□"));
}

// Covers  days with nothing to strike in a typical season are told apart from those to keep free.
TEST(PlanText, TellsUsualDaysFromSpareOnes) {
  season::Plan plan = example_plan();
  plan.sessions[0].cuttings = {0, 0.2, 14};
  plan.sessions[7].cuttings = {0, 0, 9};
  EXPECT_TRUE(
      holds(answer_words(example_goal(), plan),
            "Keep 6 days free for striking, from Sun 23 May 2027 to Sat 12 Jun 2027 (2 more in an early or late "
            "season), and be ready"));
}

// Covers  the table of days: parts of each day add up to it, the last line is all sessions together with the same
// numbers as the needs, typical and high told apart.
TEST(PlanText, AddsUpTheDaysAtTheBench) {
  const std::string text = plan_text(example_goal(), example_plan(), {});
  EXPECT_TRUE(holds(text, "in all           150      212   262     188           24  14.3 h\n")) << text;
  EXPECT_TRUE(holds(folded(text), "The days do not add up to the line \"in all\""));
  EXPECT_TRUE(holds(text, "14.3 h  in a typical season; up to 17.8 h for 262"));
  EXPECT_EQ(whole_parts(10, {1, 1, 1}), (std::vector<int>{3, 4, 3}));
  EXPECT_EQ(whole_parts(0.4, {1, 1}), (std::vector<int>{0, 0}));
  for (int all = 1; all < 60; ++all) {
    const auto parts = whole_parts(all, {0.575, 0.3, 0.125});
    EXPECT_EQ(parts[0] + parts[1] + parts[2], all);
  }
  season::Plan one_day = example_plan();
  one_day.sessions.resize(1);
  EXPECT_FALSE(holds(plan_text(example_goal(), one_day, {}), "\n  in all "));
}

// Covers  what is lost at a stage is the difference of the two numbers that are shown.
TEST(PlanText, LosesWhatIsMissing) {
  season::Plan plan = example_plan();
  using season::Stage;
  plan.stages = {{Stage::sown, 274}, {Stage::emerged, 220.4}, {Stage::standing, 193.6}, {Stage::offered, 193.4}};
  const std::string text = plan_text(example_goal(), plan, {});
  EXPECT_TRUE(holds(text, " 26 rotted, dried,")) << text;
  EXPECT_TRUE(holds(text, " 1 too late, too stiff"));
}

// Covers  what a rate means stands beside its name where it first stands, and how sure a guess is in plain words.
TEST(PlanText, SaysItsWordsPlainly) {
  season::Plan plan = example_plan();
  plan.assurance_error = 0.02;
  EXPECT_TRUE(
      holds(answer_words(example_goal(), plan), "90 % sure (give or take 2 %, as far as this was calculated) of"));
  const std::string text = folded(plan_text(example_goal(), example_plan(), example_notes()));
  EXPECT_TRUE(holds(text, "65 (30 to 90) % of the cuttings root"));
  EXPECT_TRUE(holds(text, "90 (75 to 97) % of the seedlings live until cut"));
  EXPECT_TRUE(holds(text, "tell how sure the plan is to within 0.62 percentage points"));
  for (const char* unclear : {"Mind", "trust", "±", "keep some chilling"})
    EXPECT_FALSE(holds(text, unclear)) << unclear;
}

// Covers  short times in minutes, so that a table of them adds up: 24 sessions of a minute are no 2.4 hours.
TEST(PlanText, SaysHoursToATenthAndLessInMinutes) {
  EXPECT_EQ(hours_words(0), "0");
  EXPECT_EQ(plain_spaces(hours_words(1 / 60.0)), "1 min");
  EXPECT_EQ(plain_spaces(hours_words(0.82)), "50 min");
  EXPECT_EQ(plain_spaces(hours_words(0.995)), "1.0 h");
  EXPECT_EQ(plain_spaces(hours_words(17.84)), "17.8 h");
}

// Covers  what would save less than one seed in a hundred is named, without a test of its own; an unknown that can put
// the goal out of reach is always worth knowing.
TEST(PlanText, KeepsToWhatIsWorthKnowing) {
  season::Plan plan = example_plan();
  EXPECT_TRUE(worth_knowing(plan, plan.unknowns[1]));
  EXPECT_FALSE(worth_knowing(plan, plan.unknowns[4]));
  plan.unknowns[4].unreachable_share = 0.02;
  EXPECT_TRUE(worth_knowing(plan, plan.unknowns[4]));
  EXPECT_EQ(unknown_notes(example_goal(), example_plan()).back(),
            "It hardly matters that these are not known: weaning.");
  EXPECT_EQ(plain_spaces(belief_words(plan.unknowns[3])), "420 (320 to 550) °C d");
  EXPECT_EQ(plain_spaces(belief_words(plan.unknowns[4])), "88 (80 to 93) % of the rooted ones live through weaning");
}

// Covers  every quantity has a name of its own, a unit and a small test; a rate's test says how many to try.
TEST(PlanText, NamesEveryUnknownAndItsTest) {
  season::Unknown unknown = example_plan().unknowns[1];
  EXPECT_EQ(plain_spaces(unknown_name(example_goal(), unknown)), "take (radial)");
  unknown.want.reset();
  EXPECT_EQ(unknown_name(example_goal(), unknown), "take");
  EXPECT_EQ(small_test(unknown), "a trial strike: 24 cuttings over at least three sessions, lifted when due");
  std::set<std::string> names;
  for (int i = 0; i <= static_cast<int>(season::ChainQuantity::weaning_days); ++i) {
    unknown.quantity = static_cast<season::ChainQuantity>(i);
    EXPECT_TRUE(names.insert(unknown_name(example_goal(), unknown)).second) << i;
    EXPECT_NE(unit_of(unknown.quantity), "") << i;
    EXPECT_NE(small_test(unknown), "") << i;
  }
}

// Covers  dates long after the last that can do it say nothing more and are left out; where none can, those without a
// chance worth a percent.
TEST(PlanText, LeavesOutHopelessSowingDates) {
  const season::Plan plan = example_plan();
  ASSERT_EQ(plan.sweep.back().sow, make_date(2027, 6, 7));
  EXPECT_EQ(telling_sweep(plan).back().sow, make_date(2027, 6, 2));
  EXPECT_EQ(telling_sweep(unmet_plan()).size(), unmet_plan().sweep.size());
  EXPECT_TRUE(telling_sweep(empty_plan()).empty());
  season::Plan hopeless = unmet_plan();
  for (auto& point : hopeless.sweep) point.best_assurance = 0.004;
  EXPECT_TRUE(telling_sweep(hopeless).empty());
  EXPECT_TRUE(holds(plain_spaces(sweep_sentence(example_goal(), hopeless)), "On every one: under 1 % sure."));
}

// Covers  a southern season over the turn of the year: dates keep their year, the calendar says where the year changes.
TEST(PlanText, CrossesTheTurnOfTheYear) {
  season::Goal goal = example_goal();
  season::Plan plan = example_plan();
  const Days half_a_year{183};
  goal.site.latitude_deg = -41.3;
  goal.today += half_a_year;
  goal.by += half_a_year;
  for (season::SowingPlan& sowing : plan.sowings) {
    sowing.on += half_a_year;
    *sowing.chill_start += half_a_year;
  }
  for (Date& date : plan.sow_dates) date += half_a_year;
  for (auto& session : plan.sessions) session.date += half_a_year;
  const auto move = [&](season::DateSpread& dates) {
    for (Date* date : {&dates.early, &dates.typical, &dates.late}) *date += half_a_year;
  };
  for (auto& band : plan.bands) move(band.days);
  for (auto& entry : plan.calendar) move(entry.when);
  const std::string text = plan_text(goal, plan, {});
  EXPECT_TRUE(holds(folded(text), "Sow 412 seeds (5.5 g) on Sun 3 Oct 2027"));
  EXPECT_TRUE(holds(folded(text), "weaned by Sat 1 Apr 2028"));
  EXPECT_TRUE(holds(text, "              2027\n"));
  EXPECT_TRUE(holds(text, "              2028\n"));
}

// Covers  a row that stands under one year and begins in the one before says so.
TEST(PlanText, SaysTheYearOfADateOutsideItsRow) {
  season::Plan plan = example_plan();
  plan.calendar = {
      {season::CalendarKind::rooted, {make_date(2027, 12, 20), make_date(2028, 1, 4), make_date(2028, 1, 30)}, {}, {}}};
  EXPECT_TRUE(holds(plan_text(example_goal(), plan, {}), "Mon 20 Dec 2027  Tue 4 Jan  Sun 30 Jan"));
}

// Covers  lines stay inside the width they are given (tables of the example fit into 80), and a plan without any part
// still prints: no empty heading, nothing that is not a number.
TEST(PlanText, KeepsToTheWidth) {
  for (const int width : {80, 100}) {
    const std::string text = plan_text(example_goal(), example_plan(), example_notes(), width);
    for (std::size_t at = 0; at < text.size();) {
      const std::size_t end = text.find('\n', at);
      ASSERT_NE(end, std::string::npos);
      EXPECT_LE(width_of(text.substr(at, end - at)), static_cast<std::size_t>(width)) << text.substr(at, end - at);
      at = end + 1;
    }
  }
}

TEST(PlanText, PrintsAnEmptyPlan) {
  const std::string text = plan_text(season::Goal{}, empty_plan(), {});
  EXPECT_FALSE(holds(text, "nan"));
  EXPECT_FALSE(holds(text, "inf"));
  EXPECT_FALSE(holds(text, "── Calendar"));
  EXPECT_FALSE(holds(text, "── If you sow"));
}

TEST(PlanText, SaysUnknownForWhatIsNotANumber) {
  season::Plan plan = example_plan();
  const double nothing = std::numeric_limits<double>::quiet_NaN();
  const double endless = std::numeric_limits<double>::infinity();
  plan.assurance = nothing;
  plan.assurance_error = endless;
  plan.needs.sand_litres = endless;
  plan.sessions[2].hours = nothing;
  plan.curve[3].assurance = nothing;
  plan.unknowns[1].high = endless;
  const std::string text = plan_text(example_goal(), plan, {});
  EXPECT_FALSE(holds(text, "nan"));
  EXPECT_FALSE(holds(text, "inf"));
  EXPECT_TRUE(holds(text, "unknown"));
}

// Covers  a table that would be too wide: its heads are wrapped first, then its first column.
TEST(TextTable, KeepsToItsWidth) {
  EXPECT_EQ(table({{"Day"}, {"radial (square cut)", true}, {"h", true}}, {{"Sat", "36", "1"}}, 20),
            "  Day   radial  h\n"
            "       (square\n"
            "          cut)\n"
            "  ───  ───────  ─\n"
            "  Sat       36  1\n");
  EXPECT_EQ(table({{"What"}, {"How much"}, {""}}, {{"a long name of something", "3 L", "for the pockets of all"}}, 36),
            "  What            How\n"
            "                  much\n"
            "  ──────────────  ────  ────────────\n"
            "  a long name of  3 L   for the\n"
            "  something             pockets of\n"
            "                        all\n");
}

TEST(TextTable, WrapsAtSpacesAndCountsCharactersNotBytes) {
  EXPECT_EQ(wrapped("eins zwei drei", 9), (std::vector<std::string>{"eins zwei", "drei"}));
  EXPECT_EQ(wrapped("größer als", 10), (std::vector<std::string>{"größer als"}));
  EXPECT_EQ(wrapped(unbroken("90 %") + " sure", 5), (std::vector<std::string>{unbroken("90 %"), "sure"}));
  EXPECT_EQ(paragraph("a b", 5, "  - "), "  - a\n    b\n");
  EXPECT_EQ(bar(0.5, 3), "█▌");
  EXPECT_EQ(bar(2, 3), "███");
  EXPECT_EQ(bar(-1, 3), "");
}

}  // namespace strikebed::print
