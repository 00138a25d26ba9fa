// What falls due, in a season that is noted day by day.
#include "nursery/today.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "shipped.hpp"
#include "tests/file_text.hpp"

// Entries are written here with what matters of them.
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"

namespace strikebed::nursery {
namespace {

using namespace daybook;
using print::Due;
using print::DueKind;

constexpr std::string_view kGoal =
    "species = \"pinus-thunbergii\"\nby = 2027-10-01\n"
    "[[want]]\nbase_form = \"radial\"\ncount = 60\n"
    "[place]\nlatitude = 47.6\nlongitude = -122.3\nelevation_m = 20\ntime_zone = \"America/Los_Angeles\"\n"
    "[seedbed]\nair = \"outdoor\"\nat_least = 18\n[sessions]\nweekdays = [\"Saturday\"]\ncuttings_at_most = 48\n";

/// A daybook with a goal and a plan: 400 seeds on 20 March.
class Noted {
 public:
  Noted() {
    goal_ = add(make_date(2027, 1, 5), GoalSet{.name = "autumn 2027", .goal_toml = std::string(kGoal)});
    add(make_date(2027, 1, 5),
        PlanChosen{
            .goal = goal_, .seeds = 400, .assurance = 0.9, .sowings = {{make_date(2027, 3, 20), 400}}, .sessions = {}});
  }
  EntryId add(Date day, Body body, std::optional<EntryId> batch = {}) {
    Entry entry;
    entry.id = {1, ++last_};
    entry.happened = entry.written = {(day.time_since_epoch().count() * 24LL + 20) * 3'600'000, -480};
    entry.device = "test";
    entry.batch = batch;
    entry.body = std::move(body);
    fold_.add(entry);
    return entry.id;
  }
  TodayAnswer on(Date day) {
    DaybookRequest request{.today = day};
    request.weather = Text{"weather.csv", file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv")};
    auto answer = today(request, fold_, shipped_library());
    EXPECT_TRUE(answer.ok()) << answer.error().problem;
    return std::move(*answer);
  }

 private:
  Fold fold_;
  EntryId goal_;
  std::uint64_t last_ = 0;
};

const Due* due_of(const TodayAnswer& answer, DueKind kind) {
  const auto found = std::ranges::find(answer.due, kind, &Due::kind);
  return found == answer.due.end() ? nullptr : &*found;
}

TEST(Today, ASowingIsChilledForThenSownThenDone) {
  Noted book;
  const TodayAnswer january = book.on(make_date(2027, 2, 1));
  ASSERT_NE(due_of(january, DueKind::chill), nullptr);
  EXPECT_EQ(due_of(january, DueKind::chill)->from, make_date(2027, 2, 3) - Days{3});  // 45 days before
  EXPECT_EQ(due_of(january, DueKind::chill)->number, 400);
  EXPECT_EQ(due_of(january, DueKind::sow)->from, make_date(2027, 3, 20));
  EXPECT_TRUE(january.has_plan);

  const EntryId tray = book.add(make_date(2027, 2, 3), BatchStarted{.code = "AAAAA", .number = 400});
  book.add(make_date(2027, 2, 3), Chilled{.days = 45}, tray);
  const TodayAnswer chilled = book.on(make_date(2027, 2, 3));  // noted today: done
  EXPECT_EQ(due_of(chilled, DueKind::chill), nullptr);
  EXPECT_EQ(due_of(chilled, DueKind::sow)->code, "AAAAA");

  book.add(make_date(2027, 3, 22), daybook::Sown{}, tray);
  EXPECT_EQ(due_of(book.on(make_date(2027, 3, 22)), DueKind::sow), nullptr);  // on the day itself, too
  const TodayAnswer sown = book.on(make_date(2027, 3, 24));
  EXPECT_EQ(due_of(sown, DueKind::sow), nullptr);
  const Due* count = due_of(sown, DueKind::count_emerged);
  ASSERT_NE(count, nullptr);
  EXPECT_EQ(count->code, "AAAAA");
  EXPECT_GT(count->from, make_date(2027, 3, 26));
  EXPECT_FALSE(count->since);

  // Counted: again a week later, and no more once all are up.
  book.add(make_date(2027, 4, 3), Counted{.emerged = 120}, tray);
  const TodayAnswer counted = book.on(make_date(2027, 4, 4));
  ASSERT_NE(due_of(counted, DueKind::count_emerged), nullptr);
  EXPECT_EQ(due_of(counted, DueKind::count_emerged)->from, make_date(2027, 4, 10));
  book.add(make_date(2027, 5, 1), Counted{.emerged = 310}, tray);
  EXPECT_EQ(due_of(book.on(make_date(2027, 5, 2)), DueKind::count_emerged), nullptr);
}

TEST(Today, ASessionIsMadeReadyForThenStruckThenLookedAt) {
  Noted book;
  const EntryId tray = book.add(make_date(2027, 3, 20), BatchStarted{.code = "AAAAA", .number = 400});
  book.add(make_date(2027, 3, 20), daybook::Sown{}, tray);
  book.add(make_date(2027, 4, 20), Counted{.emerged = 310}, tray);
  const TodayAnswer before = book.on(make_date(2027, 5, 10));
  const Due* strike = due_of(before, DueKind::strike);
  const Due* ready = due_of(before, DueKind::make_ready);
  ASSERT_TRUE(strike && ready);
  EXPECT_EQ(weekday_of(strike->from), 6);
  EXPECT_EQ(ready->from, strike->from - Days{1});
  EXPECT_GE(*ready->number * 4, strike->cuttings.high - 1e-9);
  EXPECT_LE(strike->cuttings.high, 48);
  EXPECT_NE(due_of(before, DueKind::look_at_stems), nullptr);

  const Date session = strike->from;
  EXPECT_EQ(due_of(book.on(session), DueKind::strike)->from, session);  // in the morning it is still to come
  const EntryId pots =
      book.add(session, BatchStarted{.code = "AAAAB", .holds = Holds::cuttings, .number = 0, .from = {{tray, 0}}});
  book.add(session, Struck{.into = pots, .offered = 40, .struck = 40, .method = "square-cut"}, tray);
  EXPECT_NE(due_of(book.on(session), DueKind::strike)->from, session);
  const TodayAnswer after = book.on(session + Days{1});
  const Due* roots = due_of(after, DueKind::look_for_roots);
  ASSERT_NE(roots, nullptr);
  EXPECT_EQ(roots->code, "AAAAB");
  EXPECT_EQ(roots->since, session);
  EXPECT_GT(roots->from, session + Days{14});

  // Looked at: again a fortnight later, weaning of those with roots; and nothing more where none waits.
  const Date look = roots->from + Days{2};
  book.add(look, Counted{.rooted = 12, .undecided = 20}, pots);
  const TodayAnswer looked = book.on(look + Days{1});
  EXPECT_EQ(due_of(looked, DueKind::look_for_roots)->from, look + Days{14});
  EXPECT_NE(due_of(looked, DueKind::wean), nullptr);
  book.add(look + Days{20}, Counted{.rooted = 26, .undecided = 0}, pots);
  book.add(look + Days{20}, WeaningStep{}, pots);
  const TodayAnswer weaned = book.on(look + Days{21});
  EXPECT_EQ(due_of(weaned, DueKind::look_for_roots), nullptr);
  EXPECT_EQ(due_of(weaned, DueKind::wean), nullptr);
  EXPECT_EQ(due_of(weaned, DueKind::count_plants)->from, make_date(2027, 10, 1));
  // After the goal's date, too.
  EXPECT_NE(due_of(book.on(make_date(2027, 10, 3)), DueKind::count_plants), nullptr);
  book.add(make_date(2027, 10, 3), Counted{.alive = 24}, pots);
  EXPECT_EQ(due_of(book.on(make_date(2027, 10, 4)), DueKind::count_plants)->from,
            book.on(make_date(2027, 10, 4)).goal.winter_ends);
}

TEST(Today, AllTraysInTheColdAreSownEachWithItsOwnNumber) {
  Noted book;
  for (const char* code : {"AAAAA", "AAAAB", "AAAAC"}) {
    const EntryId tray = book.add(make_date(2027, 2, 3), BatchStarted{.code = code, .number = 200});
    book.add(make_date(2027, 2, 3), Chilled{.days = 45}, tray);
  }
  const TodayAnswer answer = book.on(make_date(2027, 3, 20));
  EXPECT_EQ(std::ranges::count(answer.due, DueKind::sow, &Due::kind), 2);  // 400 were planned
  EXPECT_EQ(due_of(answer, DueKind::sow)->number, 200);
}

TEST(Today, WithoutAPlanItSaysSoAndOverdueStaysUntilItIsDone) {
  Noted book;
  const TodayAnswer late = book.on(make_date(2027, 4, 10));
  EXPECT_LT(due_of(late, DueKind::sow)->until, make_date(2027, 4, 10));
  const std::string words = words_of(late, 80);
  EXPECT_NE(words.find("OVERDUE"), std::string::npos);
  EXPECT_NE(words.find("Sow 400 seeds"), std::string::npos);

  DaybookRequest request{.goal = Text{"goal.toml", std::string(kGoal)}, .today = make_date(2027, 4, 10)};
  request.weather = Text{"weather.csv", file_text(SOURCE_DIR "/demo/weather/seattle-2012-2015.csv")};
  Fold nothing;
  const auto answer = today(request, nothing, shipped_library());
  ASSERT_TRUE(answer.ok());
  EXPECT_FALSE(answer->has_plan);
  EXPECT_TRUE(answer->due.empty());
  EXPECT_NE(words_of(*answer, 80).find("Nothing is due, and nothing is known to come."), std::string::npos);
}

}  // namespace
}  // namespace strikebed::nursery
