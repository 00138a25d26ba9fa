// What a daybook says of a season, as the engine reads it.
#include "nursery/daybook/observed.hpp"

#include <gtest/gtest.h>

#include <utility>

// Entries are written here with what matters of them.
#pragma GCC diagnostic ignored "-Wmissing-field-initializers"

namespace strikebed::nursery {
namespace {

using namespace daybook;

/// A daybook in which each entry is of a day.
class Book {
 public:
  EntryId add(Date day, Body body, std::optional<EntryId> batch = {}) {
    Entry entry;
    entry.id = {1, ++last_};
    entry.happened = entry.written = {(day.time_since_epoch().count() * 24LL + 12) * 3'600'000, 0};
    entry.device = "test";
    entry.batch = batch;
    entry.body = std::move(body);
    fold.add(entry);
    return entry.id;
  }
  Fold fold;

 private:
  std::uint64_t last_ = 0;
};

Counted count_of(int emerged) { return {.emerged = emerged}; }

season::Goal goal_on(Date today) {
  season::Goal goal;
  goal.today = today;
  goal.by = make_date(2027, 10, 1);
  goal.winter_ends = make_date(2028, 3, 1);
  goal.wants.resize(2);
  goal.wants[0].method.id = "square-cut";
  goal.wants[1].method.id = "slanting-cut";
  return goal;
}

SeasonSeen seen_on(Date today, Book& book) {
  return season_seen(goal_on(today), {make_date(2026, 10, 1), make_date(2027, 10, 1)}, book.fold);
}

TEST(SeasonSeen, ATrayWithItsLooksAndItsCuttings) {
  Book book;
  const EntryId lot = book.add(make_date(2027, 1, 1), LotReceived{.name = "ridge", .species = "pinus-thunbergii"});
  book.add(make_date(2027, 1, 20), LotTested{.lot = lot, .good = 41, .of = 50});
  const EntryId tray = book.add(make_date(2027, 2, 1), BatchStarted{.code = "AAAAA", .lot = lot, .number = 200});
  book.add(make_date(2027, 2, 1), Chilled{.days = 45}, tray);
  book.add(make_date(2027, 3, 20), daybook::Sown{}, tray);
  book.add(make_date(2027, 4, 10), count_of(90), tray);
  book.add(make_date(2027, 4, 24), count_of(150), tray);
  book.add(make_date(2027, 5, 8), Lost{.number = 4, .cause = LossCause::rotted}, tray);
  book.add(make_date(2027, 5, 15), Counted{.green = 80, .turning = 40, .red = 24, .faded = 0}, tray);
  const EntryId pots =
      book.add(make_date(2027, 5, 15),
               BatchStarted{.code = "AAAAB", .holds = Holds::cuttings, .number = 0, .from = {{tray, 0}}});
  for (int group = 0; group < 2; ++group) {
    book.add(make_date(2027, 5, 15),
             Struck{.into = pots, .offered = 12, .rejected = 1, .broken = 1, .struck = 10, .method = "slanting-cut"},
             tray);
  }
  book.add(make_date(2027, 6, 1), Lost{.number = 3, .cause = LossCause::dried}, pots);
  book.add(make_date(2027, 6, 26), Counted{.rooted = 9, .undecided = 8}, pots);
  // Another year's.
  const EntryId old = book.add(make_date(2026, 3, 1), BatchStarted{.code = "AAAAC", .number = 50});
  book.add(make_date(2026, 3, 1), daybook::Sown{}, old);

  const SeasonSeen seen = seen_on(make_date(2027, 7, 1), book);
  ASSERT_EQ(seen.sown.size(), 1U);
  EXPECT_EQ(seen.sown[0].on, make_date(2027, 3, 20));
  EXPECT_EQ(seen.sown[0].seeds, 200);
  EXPECT_EQ(seen.sown[0].lot.name, "ridge");
  EXPECT_EQ(seen.sown[0].lot.chill_days, 47);
  EXPECT_EQ(seen.sown[0].germination.belief, (std::variant<Known, Tested, Ranged>(Tested{41, 50})));
  const season::SeenSowing& sowing = seen.observed.sowings.at(0);
  ASSERT_EQ(sowing.emerged.size(), 2U);
  EXPECT_EQ(sowing.emerged[1], (season::SeenCount{make_date(2027, 4, 24), 150, 200}));
  ASSERT_EQ(sowing.tray.size(), 1U);
  // 150 up, 4 noted as lost; 144 counted: two more are missing.
  EXPECT_EQ(sowing.tray[0], (season::TrayLook{make_date(2027, 5, 15), {80, 40, 24, 0}, 144, 24, 6}));
  ASSERT_EQ(seen.observed.sessions.size(), 1U);
  EXPECT_EQ(seen.observed.sessions[0], (season::SeenCount{make_date(2027, 5, 15), 20, 24}));
  ASSERT_EQ(seen.observed.strikes.size(), 1U);
  const season::SeenStrike& strike = seen.observed.strikes[0];
  EXPECT_EQ(strike.want, 1U);
  EXPECT_EQ(strike.sowing, 0U);
  EXPECT_EQ(strike.struck, 20);
  EXPECT_EQ(strike.lost, (std::vector<season::SeenLoss>{{make_date(2027, 6, 26), 3}}));
  ASSERT_EQ(strike.rooted.size(), 1U);
  EXPECT_EQ(strike.rooted[0], (season::SeenCount{make_date(2027, 6, 26), 9, 17}));

  // What was noted on the day itself or later is not known yet.
  const SeasonSeen before = seen_on(make_date(2027, 5, 15), book);
  EXPECT_TRUE(before.observed.strikes.empty());
  EXPECT_TRUE(before.observed.sowings.at(0).tray.empty());
}

// Signs that were counted on the evening before are those that were cut by.
TEST(SeasonSeen, SignsOfTheEveningBeforeASession) {
  Book book;
  const EntryId tray = book.add(make_date(2027, 3, 20), BatchStarted{.code = "AAAAA", .number = 100});
  book.add(make_date(2027, 3, 20), daybook::Sown{}, tray);
  book.add(make_date(2027, 4, 24), count_of(80), tray);
  book.add(make_date(2027, 5, 14), Counted{.green = 40, .turning = 20, .red = 18, .faded = 0}, tray);
  const EntryId pots =
      book.add(make_date(2027, 5, 15), BatchStarted{.code = "AAAAB", .holds = Holds::cuttings, .number = 0});
  book.add(make_date(2027, 5, 15), Struck{.into = pots, .struck = 12}, tray);
  const SeasonSeen seen = seen_on(make_date(2027, 6, 1), book);
  ASSERT_EQ(seen.observed.sowings.at(0).tray.size(), 1U);
  EXPECT_EQ(seen.observed.sowings[0].tray[0], (season::TrayLook{make_date(2027, 5, 15), {40, 20, 18, 0}, 78, 12, 2}));
}

TEST(SeasonSeen, WeanedLiftedAndGraded) {
  Book book;
  const EntryId pots =
      book.add(make_date(2027, 5, 15), BatchStarted{.code = "AAAAB", .holds = Holds::cuttings, .number = 0});
  book.add(make_date(2027, 5, 15), Struck{.into = pots, .struck = 24, .method = "square-cut"}, pots);
  book.add(make_date(2027, 5, 16), ControlSetAside{.number = 4}, pots);
  book.add(make_date(2027, 6, 20), Counted{.rooted = 1, .of = 2, .sample = true, .destructive = true}, pots);
  book.add(make_date(2027, 7, 10), Counted{.rooted = 12, .undecided = 4}, pots);
  book.add(make_date(2027, 8, 1), WeaningStep{.step = Weaning::open_air}, pots);
  book.add(make_date(2027, 8, 20), Counted{.alive = 11}, pots);
  book.add(make_date(2027, 9, 1), Graded{.fit = 9, .of = 11}, pots);
  book.add(make_date(2027, 9, 2), HandedOver{.number = 2}, pots);
  const SeasonSeen seen = seen_on(make_date(2027, 9, 10), book);
  ASSERT_EQ(seen.observed.strikes.size(), 1U);
  const season::SeenStrike& strike = seen.observed.strikes[0];
  EXPECT_EQ(strike.struck, 20);
  ASSERT_EQ(strike.lifted.size(), 1U);
  EXPECT_EQ(strike.lifted[0].of, 2);
  EXPECT_EQ(strike.number_lost(), 2);  // 20 less the two that were lifted, of which 16 were there
  EXPECT_EQ(strike.weaned, (season::SeenCount{make_date(2027, 8, 20), 11, 12}));
  EXPECT_EQ(strike.graded, (season::SeenCount{make_date(2027, 9, 1), 9, 11}));
  EXPECT_EQ(strike.gone, 2);
}

}  // namespace
}  // namespace strikebed::nursery
