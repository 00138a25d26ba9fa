#include <gtest/gtest.h>

#include <map>
#include <set>

#include "print/number_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/limit_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/remark_words.hpp"
#include "print/text_table.hpp"
#include "tests/print/example_plan.hpp"

namespace strikebed::print {
namespace {

using growth::Rung;
using season::CalendarKind;
using season::LimitKind;
using season::RemarkKind;

/// An example goal that is counted after the winter of 2027, and too early for it.
season::Goal winter_goal() {
  season::Goal goal = example_goal();
  goal.count_at = season::CountAt::established;
  goal.winter_starts = make_date(2027, 11, 1);
  goal.winter_ends = make_date(2028, 4, 1);
  return goal;
}

/// A skin's names for some fields.
std::string controls(std::string_view field) {
  static const std::map<std::string_view, std::string> names{
      {"seedbed.lit", "Lamps"},        {"seedbed.at_least", "Seedbed at least"},  {"bench.at_least", "Bench at least"},
      {"lot.chill_days", "Chilling"},  {"sessions.cuttings_at_most", "Cuttings"}, {"sessions.hours_at_most", "Hours"},
      {"mix.medium", "Media"},         {"seedbed.offset", "Seedbed offset"},      {"bench.fixed", "Bench held at"},
      {"bench.offset", "Bench offset"}};
  return names.at(field);
}
std::string no_control(std::string_view) { return ""; }

std::string said(const season::Limit& limit) { return plain_spaces(limit_words(winter_goal(), limit, controls)); }
std::string said(const season::Remark& remark) { return plain_spaces(remark_words(example_goal(), remark, controls)); }
std::string said(const climate::SeasonsOrigin& origin) { return origin_words(origin); }

}  // namespace

// Covers  each kind of limit as it stands and with what lifting it brings: seeds that are enough, or only more
// sureness.
TEST(LimitWords, SayWhatIsInTheWayAndWhatHelps) {
  const season::Lifted enough{520, 0.93, 0.41};
  const season::Lifted surer{{}, 0.873, 0.004};
  const season::Rewarmed warm{.heated_c = 18};
  const season::Rewarmed cool{.cooler_c = 3};
  const Date later = make_date(2028, 5, 1);
  const auto limit = [](LimitKind kind) { return season::Limit{.kind = kind}; };
  EXPECT_EQ(said({.kind = LimitKind::room, .lifted = enough, .sessions = 9}),
            "there is room for 48 cuttings a session, 432 in the 9 sessions that could be held; with room for all the "
            "goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::bench_days, .lifted = surer}),
            "the days at the bench are few; with a session every day it would be 87 % sure instead of under 1 %");
  EXPECT_EQ(said({.kind = LimitKind::cold, .lifted = surer, .seedbed = warm}),
            "the seedbed is cold; heated to 18 °C (Seedbed at least = 18) it would be 87 % sure instead of under 1 %");
  EXPECT_EQ(said({.kind = LimitKind::cold, .lifted = enough, .bench = warm}),
            "the bench is cold; heated to 18 °C (Bench at least = 18) the goal can be met with about 520 seeds");
  EXPECT_EQ(
      said({.kind = LimitKind::bench_days, .lifted = enough, .date = later}),
      "all days at the bench come before the first seedlings are ripe, about Mon 1 May 2028; with a session every "
      "day the goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::sowing_day, .lifted = enough}),
            "the sowing day is yours; on the best day the goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::hot, .lifted = enough, .seedbed = cool}),
            "the seedbed is hot; shaded and aired to be 3 °C cooler (Seedbed offset = -3) the goal can be met with "
            "about 520 seeds");
  EXPECT_EQ(
      said({.kind = LimitKind::cold, .lifted = enough, .seedbed = warm, .bench = warm}),
      "the seedbed and the bench are cold; the seedbed heated to 18 °C (Seedbed at least = 18) and the bench heated "
      "to 18 °C (Bench at least = 18), the goal can be met with about 520 seeds");
  EXPECT_EQ(
      said({.kind = LimitKind::chilling, .lifted = enough, .chill_days = 22}),
      "chilling for 45 days puts the sowing off; chilled for 22 days only (Chilling = 22), slower and less evenly "
      "up, the goal can be met with about 520 seeds");
  EXPECT_EQ(
      said({.kind = LimitKind::chilling, .lifted = surer}),
      "chilling for 45 days puts the sowing off; sown without chilling (Chilling = 0), slower and less evenly up, "
      "it would be 87 % sure instead of under 1 %");
  season::Goal heated = winter_goal();
  heated.bench.at_least_c = 30;
  EXPECT_EQ(plain_spaces(limit_words(
                heated, {.kind = LimitKind::hot, .lifted = enough, .bench = season::Rewarmed{21, 3}}, controls)),
            "the bench is hot; heated to 21 °C only, and shaded and aired to be 3 °C cooler (Bench at least = 21 and "
            "Bench offset = -3) the goal can be met with about 520 seeds");
  season::Goal held = winter_goal();
  held.bench.fixed_c = 30;
  EXPECT_EQ(plain_spaces(limit_words(held, {.kind = LimitKind::hot, .lifted = enough, .bench = season::Rewarmed{0, 9}},
                                     controls)),
            "the bench is hot; kept at 21 °C (Bench held at = 21) the goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::rate, .lifted = enough, .rung = Rung::take, .share = 0.9}),
            "too few of the struck are rooted (take); if it were 90 % the goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::date, .lifted = enough, .date = later}),
            "the date comes too soon; by Mon 1 May 2028 the goal can be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::date, .date = later}), "by Mon 1 May 2028 it cannot be met either");
  EXPECT_EQ(said({.kind = LimitKind::first_winter, .lifted = enough, .date = later}),
            "a plant is established once its first winter is over, on Sat 1 Apr 2028; by Mon 1 May 2028 the goal can "
            "be met with about 520 seeds");
  EXPECT_EQ(said({.kind = LimitKind::first_winter, .date = later}),
            "a plant is established once its first winter is over, on Sat 1 Apr 2028; by Mon 1 May 2028 it cannot be "
            "met either");
  EXPECT_EQ(said({.kind = LimitKind::no_sowing_day, .date = later}),
            "no day is left to sow: seed could go into the seedbed from Mon 1 May 2028 (chilling allowed for), but the "
            "plants are wanted by Fri 1 Oct 2027");
  EXPECT_EQ(said(limit(LimitKind::no_session)),
            "no session day before Fri 1 Oct 2027 lets a cutting root in time: the medium is too cold or too hot for "
            "it until "
            "then");
  EXPECT_TRUE(said(limit(LimitKind::rates)).starts_with("in some of the futures the rates are so poor"));
}

// Covers  the five words for programs (docs/json.md), one for every kind.
// Numbers that few futures told are said to two figures.
TEST(LimitWords, SayNoMoreFiguresThanAreKnown) {
  EXPECT_EQ(plain_spaces(about_seeds(8698)), "about 8700 seeds");
  EXPECT_EQ(plain_spaces(about_seeds(443)), "about 440 seeds");
  EXPECT_EQ(plain_spaces(about_seeds(997)), "about 1000 seeds");
  EXPECT_EQ(plain_spaces(about_seeds(97)), "about 97 seeds");
  EXPECT_EQ(plain_spaces(about_seeds(1)), "about 1 seed");
}

// Where the plan chose how often to strike, what would help is said for that.
TEST(LimitWords, SayForWhichRhythm) {
  season::Plan plan = example_plan();
  plan.limits = {{.kind = LimitKind::cold, .lifted = season::Lifted{300, 0.9, 0.9}, .bench = season::Rewarmed{18}}};
  plan.rhythms.clear();
  EXPECT_EQ(limits_note(plan), "");
  plan.rhythms = {{.rhythm = season::Rhythm::two_weeks, .seeds = 400}};
  plan.habit.rhythm = season::Rhythm::two_weeks;
  EXPECT_EQ(limits_note(plan),
            "Each is said for striking every second Saturday, as here; planned anew, more seldom may do with a few "
            "seeds more.");
  plan.limits = {{.kind = LimitKind::no_session}};
  EXPECT_EQ(limits_note(plan), "");
}

// Why the sowing day was chosen is said as it was.
TEST(SweepSentence, SaysWhyTheDay) {
  season::Plan plan = example_plan();
  const season::Goal goal = example_goal();
  plan.sow_dates.resize(1);
  EXPECT_TRUE(
      sweep_sentence(goal, plan).ends_with("hardly more than the fewest seeds, which leaves room to sow again."));
  plan.waits_for_warmth = true;
  EXPECT_TRUE(sweep_sentence(goal, plan).ends_with("sown sooner, they would only lie in the cold."));
  plan.sow_dates.push_back(plan.sow_dates.front() + Days{14});
  EXPECT_TRUE(sweep_sentence(goal, plan).ends_with("apart that the sessions are not overrun."));
}

TEST(LimitWords, HaveOneOfSixWords) {
  std::set<std::string_view> words;
  for (int i = 0; i <= static_cast<int>(LimitKind::rates); ++i) words.insert(limit_word(static_cast<LimitKind>(i)));
  EXPECT_EQ(words, (std::set<std::string_view>{"date", "window", "room", "rate", "warmth", "chilling"}));
}

TEST(LimitWords, ShareThatFallsShortIsNeverRoundedUp) {
  EXPECT_EQ(said({.kind = LimitKind::bench_days, .lifted = season::Lifted{{}, 0.8996, 0.41}}),
            "the days at the bench are few; with a session every day it would be 89.9 % sure instead of 41 %");
}

TEST(RemarkWords, SayWhatToMind) {
  const Date day = make_date(2027, 4, 3);
  season::Goal goal = example_goal();
  goal.wants[1].set_in.pockets = mix::PocketPlan{};
  goal.wants[1].set_in.pockets->sand.name = "fine sand";
  EXPECT_EQ(remark_words(goal, {.kind = RemarkKind::loose_pocket, .want = 1}, controls),
            "The pocket's fine sand does not stay on the medium of the method \"slanting-cut\": Media "
            "says what does.");
  EXPECT_EQ(said({.kind = RemarkKind::cold_seed, .share = 0.12}),
            "Seed lies in a bed too cold to germinate in: about 12 % of what could come up is lost there, at 2 % a "
            "week (a guess). A warmer bed (Seedbed at least) or a later day loses less.");
  EXPECT_EQ(said({.kind = RemarkKind::cold_seedlings, .share = 0.31}),
            "The plan leads seedlings through frost, or days too cold, too short or too hot to grow in: about 31 % are "
            "lost before they are cut. Half die in a night of -8 °C in the bed, and standing still costs 5 % a week (a "
            "guess). A bed kept above freezing (Seedbed at least) loses fewer, and so do lamps (Lamps).");
  EXPECT_EQ(
      said({.kind = RemarkKind::cold_cuttings, .share = 0.31}),
      "About 31 % of the cuttings are lost before they root, to frost on the bench (half die in a night of "
      "-4 °C) or standing still where it is too cold or too hot to root, at 5 % a week (a guess). Cover them when "
      "2 °C or less is forecast; a bench that is neither (Bench at least or Bench offset) loses fewer.");
  EXPECT_EQ(said({.kind = RemarkKind::in_the_cold, .date = day}),
            "The plan counts on seed that has been in the cold since Sat 3 Apr 2027. If it has not, write how many "
            "days it will have had (Chilling), or sow later.");
  EXPECT_EQ(said({.kind = RemarkKind::cold_bench, .date = day, .until = day + Days{30}}),
            "The first seedlings are ready about Sat 3 Apr 2027, but no session is held before Mon 3 May 2027: until "
            "then the bench's medium is too cold to root a cutting within its 90 days. A warmer bench (Bench "
            "at least) would do it.");
  EXPECT_EQ(said({.kind = RemarkKind::long_day, .date = day, .cuttings = 703.6, .hours = 12.2}),
            "On Sat 3 Apr 2027 there are about 704 cuttings to strike, 12 hours of work. Say how many you can strike "
            "in a session (Cuttings or Hours), and the plan keeps to it.");
}

// Covers  a skin that lacks the control: nobody is sent to it.
TEST(RemarkWords, SendNobodyToAControlThatIsNotThere) {
  const auto bare = [](const season::Remark& remark) {
    return plain_spaces(remark_words(example_goal(), remark, no_control));
  };
  const Date day = make_date(2027, 4, 3);
  EXPECT_TRUE(bare({.kind = RemarkKind::loose_pocket}).ends_with("the method \"square-cut\"."));
  EXPECT_TRUE(bare({.kind = RemarkKind::cold_seed}).ends_with("A warmer bed or a later day loses less."));
  EXPECT_TRUE(
      bare({.kind = RemarkKind::cold_seedlings}).ends_with("A bed kept above freezing loses fewer, and so do lamps."));
  EXPECT_TRUE(bare({.kind = RemarkKind::cold_cuttings}).ends_with("a bench that is neither loses fewer."));
  EXPECT_TRUE(bare({.kind = RemarkKind::in_the_cold}).ends_with("If it has not, sow later."));
  EXPECT_TRUE(bare({.kind = RemarkKind::cold_bench}).ends_with("A warmer bench would do it."));
  EXPECT_EQ(bare({.kind = RemarkKind::long_day, .date = day, .cuttings = 704, .hours = 12}),
            "On Sat 3 Apr 2027 there are about 704 cuttings to strike, 12 hours of work.");
}

// Covers  no skin at all, as in JSON: the fields in plain words.
TEST(RemarkWords, CallFieldsByPlainNamesWhereThereIsNoSkin) {
  EXPECT_TRUE(remark_words(example_goal(), {.kind = RemarkKind::cold_seed}, {})
                  .ends_with("A warmer bed (seedbed at least) or a later day loses less."));
}

TEST(RemarkWords, ThoseOfTheReadingComeLast) {
  const auto sentences = remark_sentences(example_goal(), example_plan(), example_notes());
  ASSERT_EQ(sentences.size(), 2U);
  EXPECT_TRUE(sentences[0].starts_with("Seed lies in a bed"));
  EXPECT_EQ(sentences[1], "Two remarks on an invented record.");
}

// Covers  seed as it is weighed out: never short, finer for a pinch; and what sowing again takes.
TEST(CalendarWords, AreInstructions) {
  const season::Plan plan = example_plan();
  const auto said_on = [&](const season::Goal& goal, CalendarKind kind, std::optional<int> seeds) {
    const Date day = make_date(2027, 5, 15);
    season::Plan of_seeds = plan;
    of_seeds.sowings[0].seeds = seeds.value_or(412);
    const bool of_sowing = kind == CalendarKind::chill || kind == CalendarKind::sow;
    return plain_spaces(calendar_words(
        goal, of_seeds, {kind, {day, day, day}, of_sowing ? std::optional<std::size_t>(0) : std::nullopt, seeds}));
  };
  season::Goal goal = example_goal();
  EXPECT_EQ(said_on(goal, CalendarKind::chill, 412),
            "Soak 412 seeds (5.5 g) for a day, drain, and chill moist at 1-5 °C for 45 days; look weekly for mould");
  EXPECT_EQ(said_on(goal, CalendarKind::sow, 1), "Sow 1 seed (0.02 g), 5-8 mm deep, grit over them");
  EXPECT_EQ(said_on(goal, CalendarKind::sow, 1000), "Sow 1000 seeds (14 g), 5-8 mm deep, grit over them");
  EXPECT_EQ(said_on(goal, CalendarKind::count, {}), "Count the seedlings: about 322 alive (265 to 361)");
  EXPECT_EQ(said_on(goal, CalendarKind::last_sowing, 1180),
            "Last date on which sowing again can still meet the goal, with 1180 seeds; they must go into the cold by "
            "Wed 31 Mar 2027, before these can be counted: keep some seed in the cold in case");
  goal.lot.chill_days = 0;
  EXPECT_EQ(said_on(goal, CalendarKind::last_sowing, {}), "Last date on which sowing again can still meet the goal");
}

TEST(CalendarWords, HaveAWordForEveryKind) {
  std::set<std::string> instructions;
  std::set<std::string_view> words;
  for (int i = 0; i <= static_cast<int>(CalendarKind::goal); ++i) {
    const season::CalendarEntry entry{static_cast<CalendarKind>(i), {}, {}, 7};
    EXPECT_TRUE(instructions.insert(calendar_words(example_goal(), example_plan(), entry)).second) << i;
    words.insert(calendar_word(entry.kind));
  }
  EXPECT_EQ(words, (std::set<std::string_view>{"chill", "sow", "emergence", "count", "ready", "session", "rooted",
                                               "weaned", "winter", "deadline", "goal"}));
}

TEST(OriginWords, SayHowTheWeatherCameAbout) {
  using Way = climate::SeasonsOrigin::Way;
  EXPECT_EQ(said(example_plan().weather),
            "The weather of 14 whole seasons as recorded in an invented record, starting in the years 2001 to 2014.");
  EXPECT_EQ(
      said({.way = Way::like_few_years, .record = "a.csv", .held = 1}),
      "Weather made day by day to match a.csv, which holds 1 whole year where 10 are needed to use its seasons as "
      "they were, with seasons made to differ 1.3 times as much as the day-to-day pattern alone would make them.");
  EXPECT_TRUE(said({.way = Way::like_gaps, .record = "a.csv", .held = 7})
                  .starts_with("Weather made day by day to match a.csv, which holds 7 seasons of this stretch without "
                               "a gap where 8 are needed"));
  EXPECT_TRUE(said({.way = Way::like_typical_year, .record = "a.epw"})
                  .starts_with("Weather made day by day to match a.epw, which is one typical year and no record"));
  EXPECT_TRUE(said(climate::SeasonsOrigin{})
                  .starts_with("Weather made day by day to match twelve monthly normals (no record was given)"));
}

}  // namespace strikebed::print
