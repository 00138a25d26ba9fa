// The rules of the fold, one by one.
#include "daybook/fold.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "tests/daybook/making.hpp"
#include "tests/daybook/state_text.hpp"

namespace strikebed::daybook {
namespace {

using Kind = ContradictionKind;

Fold fold_of(std::vector<Entry> entries) {
  Fold fold;
  fold.add(std::move(entries));
  return fold;
}

std::vector<Contradiction> contradictions(std::vector<Entry> entries) {
  return fold_of(std::move(entries)).contradictions();
}

Contradiction one(Kind kind, const EntryId& about, std::vector<EntryId> entries, std::optional<double> found = {},
                  std::optional<double> expected = {}) {
  std::ranges::sort(entries);
  return {kind, about, std::move(entries), found, expected};
}

std::vector<Contradiction> just(Contradiction only) { return {std::move(only)}; }

/// A batch of 100 seeds from nowhere, and more entries about it.
std::vector<Entry> tray(std::vector<Entry> more) {
  more.push_back(entry(1, 0, seeds(100, 1)));
  return more;
}

Batch batch_of(std::vector<Entry> entries) { return fold_of(std::move(entries)).state().batches.at(id(1)); }

TEST(Fold, ABatchIsWhatItsEntriesComeTo) {
  Fold fold = fold_of({
      entry(10, -60, LotReceived{"Home", "pinus-thunbergii", "", 2026, 500, {}}),
      entry(1, 0, seeds(100, 1, id(10))),
      entry(2, 10, Sown{.number = {}, .depth_mm = 5, .bench = "frame", .container = ""}, id(1)),
      entry(3, 20, Lost{30, LossCause::never_came_up}, id(1)),
      entry(4, 30, Moved{"bench by the door"}, id(1)),
  });
  const Batch& batch = fold.state().batches.at(id(1));
  EXPECT_EQ(batch.code, to_text(BatchCode{7, 1}));
  EXPECT_EQ(batch.left, 70);
  EXPECT_EQ(batch.losses[static_cast<std::size_t>(LossCause::never_came_up)], 30);
  EXPECT_EQ(batch.bench, "bench by the door");
  EXPECT_EQ(batch.entries, (std::vector{id(1), id(2), id(3), id(4)}));
  EXPECT_EQ(benches(fold.state()).at("bench by the door"), std::vector{id(1)});
  EXPECT_EQ(fold.state().stocks.at(id(10)).seeds.left, 400);
  EXPECT_EQ(lots_of(fold.state(), id(1)), std::vector{id(10)});
  EXPECT_TRUE(fold.contradictions().empty());
}

TEST(Fold, ACountIsALevelAndSupersedesEarlierDifferences) {
  const Batch batch = batch_of(tray({entry(2, 10, Lost{10, LossCause::dried}, id(1)), entry(3, 20, alive(80), id(1)),
                                     entry(4, 30, Lost{5, LossCause::rotted}, id(1))}));
  EXPECT_EQ(batch.left, 75);
  EXPECT_EQ(batch.unaccounted, 10);  // 90 by the book, 80 counted
  ASSERT_EQ(batch.looks.size(), 1U);
  EXPECT_EQ(batch.looks[0].before, 90);
  EXPECT_EQ(batch.looks[0].after, 80);
}

TEST(Fold, ALossWrittenLateThatHappenedBeforeTheCountChangesNothingAfterIt) {
  std::vector<Entry> entries = tray({entry(3, 20, alive(80), id(1))});
  entries.push_back(entry(2, 10, Lost{10, LossCause::dried}, id(1)));
  entries.back().written = minute(500);
  const Batch batch = batch_of(entries);
  EXPECT_EQ(batch.left, 80);
  EXPECT_EQ(batch.unaccounted, 10);
}

TEST(Fold, OrderIsHappenedThenWrittenThenId) {
  Entry first = entry(3, 20, alive(80), id(1));
  Entry second = entry(4, 20, alive(79), id(1));
  first.written = minute(22);
  second.written = minute(21);
  EXPECT_EQ(batch_of(tray({first, second})).left, 80);
  second.written = minute(23);
  EXPECT_EQ(batch_of(tray({first, second})).left, 79);
  second.written = first.written;
  EXPECT_EQ(batch_of(tray({first, second})).left, id(3) < id(4) ? 79 : 80);
}

TEST(Fold, ASampleSaysNothingOfHowManyThereAre) {
  Counted counted;
  counted.alive = 41;
  counted.of = 50;
  counted.sample = true;
  const Batch batch = batch_of(tray({entry(2, 10, counted, id(1))}));
  EXPECT_EQ(batch.left, 100);
  EXPECT_EQ(batch.looks.at(0).counted, counted);
}

TEST(Fold, ADestructiveCheckUsesUpWhatItLookedAt) {
  Counted counted;
  counted.rooted = 2;
  counted.of = 5;
  counted.destructive = true;
  const Batch batch = batch_of(tray({entry(2, 10, counted, id(1))}));
  EXPECT_EQ(batch.left, 95);
  EXPECT_EQ(batch.used_up, 5);
  EXPECT_FALSE(batch.rooting);  // of those that are left nothing was seen
}

TEST(Fold, GreenAndUnrootedIsUndecidedAndNotLost) {
  Counted rooted;
  rooted.rooted = 30;
  Batch batch = batch_of(tray({entry(2, 10, rooted, id(1))}));
  EXPECT_EQ(batch.left, 100);
  EXPECT_EQ(batch.rooting->rooted, 30);
  EXPECT_EQ(batch.rooting->undecided, 70);

  Counted both = rooted;
  both.green = 50;
  batch = batch_of(tray({entry(2, 10, both, id(1))}));
  EXPECT_EQ(batch.left, 80);
  EXPECT_EQ(batch.rooting->undecided, 50);
  EXPECT_EQ(batch.unaccounted, 20);
}

TEST(Fold, EmergedIsNoLevelAndTheFourSignsTogetherAreOne) {
  Counted counted;
  counted.emerged = 60;
  EXPECT_EQ(batch_of(tray({entry(2, 10, counted, id(1))})).left, 100);
  counted.green = 20;
  counted.turning = 20;
  counted.red = 10;
  EXPECT_EQ(batch_of(tray({entry(2, 10, counted, id(1))})).left, 100);
  counted.faded = 0;
  EXPECT_EQ(batch_of(tray({entry(2, 10, counted, id(1))})).left, 50);
}

TEST(Fold, AGroupLeavesTheTrayAndComesIntoTheCuttings) {
  Fold fold = fold_of(tray({entry(2, 10, cuttings(2, {{id(1), 0}})), entry(3, 20, group(id(2), 4, 1, 1, 2), id(1)),
                            entry(4, 25, group(id(2), 5), id(1))}));
  const Batch& from = fold.state().batches.at(id(1));
  const Batch& into = fold.state().batches.at(id(2));
  EXPECT_EQ(from.left, 89);
  EXPECT_EQ(from.moved_on, 9);
  EXPECT_EQ(from.losses[static_cast<std::size_t>(LossCause::passed_over)], 1);
  EXPECT_EQ(from.losses[static_cast<std::size_t>(LossCause::handling)], 1);
  EXPECT_EQ(into.left, 9);
  EXPECT_EQ(into.brought, 9);
  EXPECT_EQ(ancestors(fold.state(), id(2)), std::vector{id(1)});
  EXPECT_EQ(descendants(fold.state(), {id(1)}), std::vector{id(2)});
  EXPECT_TRUE(fold.contradictions().empty());
}

TEST(Fold, BatchesArePooledAndSplit) {
  Fold fold =
      fold_of({entry(10, 0, LotReceived{"A", "x", "", {}, {}, {}}), entry(11, 0, LotReceived{"B", "x", "", {}, {}, {}}),
               entry(1, 1, seeds(100, 1, id(10))), entry(2, 1, seeds(50, 2, id(11))),
               entry(3, 5, cuttings(3, {{id(1), 20}, {id(2), 30}})), entry(4, 6, cuttings(4, {{id(3), 10}}))});
  const State& state = fold.state();
  EXPECT_EQ(state.batches.at(id(1)).left, 80);
  EXPECT_EQ(state.batches.at(id(2)).left, 20);
  EXPECT_EQ(state.batches.at(id(3)).begun_with, 50);
  EXPECT_EQ(state.batches.at(id(3)).left, 40);
  EXPECT_EQ(state.batches.at(id(4)).left, 10);
  std::vector lots{id(10), id(11)};
  std::ranges::sort(lots);
  EXPECT_EQ(lots_of(state, id(4)), lots);
  EXPECT_EQ(ancestors(state, id(4)).size(), 3U);
  EXPECT_TRUE(fold.contradictions().empty());
}

TEST(Fold, WhatIsGivenSoldSetAsideAndGradedIsKept) {
  const Batch batch = batch_of(tray({entry(2, 10, HandedOver{3, HandedHow::given, ""}, id(1)),
                                     entry(3, 11, HandedOver{4, HandedHow::sold, ""}, id(1)),
                                     entry(4, 12, ControlSetAside{5, "without auxin"}, id(1)),
                                     entry(5, 13, Graded{BaseForm::radial, 6, 8, 70, 5}, id(1)),
                                     entry(6, 14, Graded{BaseForm::radial, 1, 2, {}, {}}, id(1))}));
  EXPECT_EQ(batch.left, 93);
  EXPECT_EQ(batch.given, 3);
  EXPECT_EQ(batch.sold, 4);
  EXPECT_EQ(batch.controls, 5);
  EXPECT_EQ(batch.gradings[0], (Grading{7, 10}));
}

TEST(Fold, BottlesAreEmptiedByWhatIsMixedFromThem) {
  Mixed dip{.what = Stuff::solution,
            .name = "dip",
            .volume_ml = 100,
            .mass_g = {},
            .auxin_ppm = 1200,
            .alcohol_pct = {},
            .active_pct = {},
            .ec_ms_cm = {},
            .ph = {},
            .used = {{id(1), 10, {}}},
            .use_by = {},
            .recipe = ""};
  StockReceived bottle{
      .what = Stuff::solution, .name = "concentrate", .volume_ml = 25, .mass_g = {}, .strength = "", .use_by = {}};
  Fold fold = fold_of({entry(1, 0, bottle), entry(2, 10, dip), entry(3, 20, dip)});
  EXPECT_EQ(fold.state().stocks.at(id(1)).volume_ml, (Level{25, 20, 5}));
  EXPECT_EQ(fold.state().stocks.at(id(2)).volume_ml, (Level{100, 0, 100}));
  fold.add(entry(4, 30, StockCounted{id(1), {}, 7, {}}));
  EXPECT_EQ(fold.state().stocks.at(id(1)).volume_ml.left, 7);
  EXPECT_TRUE(fold.contradictions().empty());
  fold.add(entry(5, 40, dip));
  EXPECT_EQ(fold.contradictions(), just(one(Kind::more_taken_than_there, id(1), {id(5)}, 10, 7)));
}

TEST(Fold, ALotIsTestedAndSownFrom) {
  Fold fold = fold_of({entry(1, 0, LotReceived{"Home", "x", "", {}, 500, 20}),
                       entry(2, 1, LotTested{id(1), 41, 50, {}, {}}), entry(3, 2, seeds(451, 1, id(1)))});
  EXPECT_EQ(fold.state().stocks.at(id(1)).tests, (std::vector<SeedTest>{{id(2), 41, 50}}));
  EXPECT_EQ(fold.state().stocks.at(id(1)).seeds.left, -1);
  EXPECT_EQ(fold.contradictions(), just(one(Kind::more_taken_than_there, id(1), {id(3)}, 451, 450)));
}

TEST(Fold, GoalsKeepTheirPlansAndForecasts) {
  PlanChosen plan;
  plan.goal = id(1);
  ForecastGiven forecast;
  forecast.goal = id(1);
  Fold fold = fold_of({entry(3, 20, forecast), entry(1, 0, GoalSet{"spring", "x = 1"}), entry(2, 10, plan)});
  EXPECT_EQ(fold.state().goals.at(id(1)).plans, std::vector{id(2)});
  EXPECT_EQ(fold.state().goals.at(id(1)).forecasts, std::vector{id(3)});
  EXPECT_TRUE(fold.contradictions().empty());
}

// Withdrawals.

TEST(Fold, AWithdrawnEntryIsAsIfItHadNotBeen) {
  const Entry loss = entry(2, 10, Lost{10, LossCause::dried}, id(1));
  const Entry withdrawal = entry(3, 20, Withdrawn{id(2), ""});
  const Entry again = entry(4, 21, Withdrawn{id(2), ""}, {}, "other phone");
  const Entry after_all = entry(5, 30, Withdrawn{id(3), ""});
  EXPECT_EQ(batch_of(tray({loss, withdrawal})).left, 100);
  EXPECT_EQ(batch_of(tray({withdrawal, loss})).left, 100);
  EXPECT_EQ(batch_of(tray({loss, withdrawal, again})).left, 100);
  EXPECT_EQ(batch_of(tray({loss, withdrawal, after_all})).left, 90);
  EXPECT_EQ(batch_of(tray({loss, withdrawal, again, after_all})).left, 100);
  EXPECT_EQ(batch_of(tray({after_all, withdrawal, loss, entry(6, 40, Withdrawn{id(5), ""})})).left, 100);
}

TEST(Fold, AWithdrawalBeforeItsTargetIsNamedUntilItComes) {
  Fold fold = fold_of(tray({entry(3, 20, Withdrawn{id(2), ""})}));
  EXPECT_EQ(fold.contradictions(), just(one(Kind::not_there, id(2), {id(3)})));
  fold.add(entry(2, 10, Lost{10, LossCause::dried}, id(1)));
  EXPECT_TRUE(fold.contradictions().empty());
  EXPECT_EQ(fold.state().batches.at(id(1)).left, 100);
  EXPECT_FALSE(fold.stands(id(2)));
  EXPECT_TRUE(fold.stands(id(3)));
}

TEST(Fold, ARingOfWithdrawalsIsVoidAndNamed) {
  Fold fold = fold_of(tray({entry(2, 10, Lost{10, LossCause::dried}, id(1)), entry(3, 20, Withdrawn{id(4), ""}),
                            entry(4, 21, Withdrawn{id(5), ""}), entry(5, 22, Withdrawn{id(3), ""}),
                            entry(6, 23, Withdrawn{id(6), ""}), entry(7, 24, Withdrawn{id(3), ""})}));
  EXPECT_EQ(fold.contradictions().size(), 2U);
  EXPECT_EQ(fold.contradictions()[0].kind, Kind::withdrawal_ring);
  EXPECT_EQ(fold.contradictions()[0].entries.size() + fold.contradictions()[1].entries.size(), 4U);
  EXPECT_EQ(fold.state().batches.at(id(1)).left, 90);
  EXPECT_FALSE(fold.stands(id(4)));
  EXPECT_TRUE(fold.stands(id(7)));
}

TEST(Fold, AWithdrawnBatchLeavesItsEntriesWithoutOne) {
  Fold fold = fold_of(tray({entry(2, 10, Lost{10, LossCause::dried}, id(1)), entry(3, 20, cuttings(2, {{id(1), 5}}))}));
  EXPECT_TRUE(fold.contradictions().empty());
  fold.add(entry(4, 30, Withdrawn{id(1), ""}));
  EXPECT_EQ(fold.state().batches.size(), 1U);
  const auto found = fold.contradictions();
  ASSERT_EQ(found.size(), 1U);
  EXPECT_EQ(found[0].kind, Kind::not_there);
  EXPECT_EQ(found[0].about, id(1));
  EXPECT_EQ(found[0].entries, (std::vector{id(2), id(3)}));  // in their order
  fold.add(entry(5, 40, Withdrawn{id(4), ""}));
  EXPECT_EQ(fold.state().batches.size(), 2U);
  EXPECT_TRUE(fold.contradictions().empty());
}

// Contradictions.

TEST(Fold, ACountAboveWhatExistsIsNamedAndTakenAsItIs) {
  const auto above = [](Counted counted) { return contradictions(tray({entry(2, 10, counted, id(1))})); };
  EXPECT_EQ(above(alive(101)), just(one(Kind::count_above_what_exists, id(1), {id(2)}, 101, 100)));
  EXPECT_EQ(batch_of(tray({entry(2, 10, alive(101), id(1))})).left, 101);
  Counted sample = alive(3);
  sample.of = 120;
  sample.sample = true;
  EXPECT_EQ(above(sample), just(one(Kind::count_above_what_exists, id(1), {id(2)}, 120, 100)));
  Counted emerged;
  emerged.emerged = 102;
  EXPECT_EQ(above(emerged), just(one(Kind::count_above_what_exists, id(1), {id(2)}, 102, 100)));
  EXPECT_TRUE(above(alive(100)).empty());
  Counted of_more = alive(90);
  of_more.of = 101;
  EXPECT_EQ(above(of_more), just(one(Kind::count_above_what_exists, id(1), {id(2)}, 101, 100)));
}

TEST(Fold, EmergedAreOfAllThatWereSownAndWhatIsAliveOfWhatIsLeft) {
  const auto after_a_loss = [](Counted counted) {
    return contradictions(tray({entry(2, 10, Lost{20, LossCause::rotted}, id(1)), entry(3, 20, counted, id(1))}));
  };
  Counted counted;
  counted.emerged = 85;
  counted.of = 100;
  EXPECT_TRUE(after_a_loss(counted).empty());
  counted.alive = 60;
  EXPECT_EQ(after_a_loss(counted), just(one(Kind::count_above_what_exists, id(1), {id(3)}, 100, 80)));
}

TEST(Fold, NoneCanBeHandledThatAreNotThere) {
  const auto handled = [](Body body) {
    return contradictions(tray({entry(2, 10, alive(5), id(1)), entry(3, 20, std::move(body), id(1))}));
  };
  const auto six_of_five = just(one(Kind::count_above_what_exists, id(1), {id(3)}, 6, 5));
  EXPECT_EQ(handled(ControlSetAside{6, ""}), six_of_five);
  EXPECT_EQ(handled(Graded{BaseForm::radial, 1, 6, {}, {}}), six_of_five);
  EXPECT_EQ(handled(Recut{6, {}, {}, {}}), six_of_five);
  EXPECT_EQ(handled(Potted{6, "", {}, {}}), six_of_five);
  EXPECT_EQ(handled(Sown{6, {}, "", ""}), six_of_five);
  EXPECT_TRUE(handled(ControlSetAside{5, ""}).empty());
  const std::vector<Entry> offered = tray({entry(2, 10, alive(5), id(1)), entry(3, 11, cuttings(2, {{id(1), 0}})),
                                           entry(4, 20, group(id(3), 2, 0, 0, 4), id(1))});
  EXPECT_EQ(contradictions(offered), just(one(Kind::count_above_what_exists, id(1), {id(4)}, 6, 5)));
}

TEST(Fold, SoManyAreSownIsALevel) {
  EXPECT_EQ(batch_of(tray({entry(2, 10, Sown{90, {}, "", ""}, id(1))})).left, 90);
  EXPECT_EQ(batch_of(tray({entry(2, 10, Sown{{}, {}, "", ""}, id(1))})).left, 100);
}

TEST(Fold, ABenchIsEmptyOnceNothingIsLeftOfWhatStoodThere) {
  Fold fold = fold_of(tray({entry(2, 10, Moved{"door"}, id(1))}));
  EXPECT_EQ(benches(fold.state()).size(), 1U);
  fold.add(entry(3, 20, alive(0), id(1)));
  EXPECT_TRUE(benches(fold.state()).empty());
}

TEST(Fold, StocksLoseByWeightByFeedingAndBySums) {
  BatchStarted by_weight = seeds(100, 1, id(1));
  by_weight.mass_g = 2.5;
  std::vector<Entry> entries{entry(1, 0, LotReceived{"A", "x", "", {}, {}, 10}), entry(2, 1, by_weight),
                             entry(3, 0, StockReceived{Stuff::feed, "feed", 1, {}, "", {}})};
  for (std::uint64_t i = 0; i < 10; ++i) {
    entries.push_back(entry(10 + i, 20 * static_cast<std::int64_t>(i) + 5, Fed{"door", id(3), 0.1, {}}));
  }
  Fold fold = fold_of(entries);
  EXPECT_EQ(fold.state().stocks.at(id(1)).mass_g.left, 7.5);
  EXPECT_NEAR(fold.state().stocks.at(id(3)).volume_ml.left.value(), 0, 1e-12);
  EXPECT_TRUE(fold.contradictions().empty());  // though ten tenths are not quite one
  fold.add(entry(30, -5, Fed{"door", id(3), 0, {}}));
  EXPECT_EQ(fold.contradictions(), just(one(Kind::before_it_began, id(3), {id(30)})));
}

TEST(Fold, MoreTakenOutThanWasThereIsNamed) {
  const auto taken = [](Body body) {
    return contradictions(tray({entry(2, 10, alive(5), id(1)), entry(3, 20, std::move(body), id(1))}));
  };
  EXPECT_EQ(taken(Lost{6, LossCause::eaten}), just(one(Kind::more_taken_than_there, id(1), {id(3)}, 6, 5)));
  EXPECT_EQ(taken(HandedOver{6, HandedHow::sold, ""}), just(one(Kind::more_taken_than_there, id(1), {id(3)}, 6, 5)));
  EXPECT_TRUE(taken(Lost{5, LossCause::eaten}).empty());
  EXPECT_EQ(batch_of(tray({entry(2, 10, Lost{101, LossCause::eaten}, id(1))})).left, -1);
}

TEST(Fold, WhatIsNotThereIsNamed) {
  EXPECT_EQ(contradictions({entry(2, 10, alive(5), id(1))}), just(one(Kind::not_there, id(1), {id(2)})));
  EXPECT_EQ(contradictions({entry(2, 10, seeds(5, 1, id(9)))}), just(one(Kind::not_there, id(9), {id(2)})));
  EXPECT_EQ(contradictions({entry(2, 10, LotTested{id(9), 1, 2, {}, {}})}), just(one(Kind::not_there, id(9), {id(2)})));
}

TEST(Fold, ALotTakenForABatchIsNamed) {
  EXPECT_EQ(contradictions({entry(1, 0, LotReceived{"A", "x", "", {}, {}, {}}), entry(2, 10, alive(5), id(1))}),
            just(one(Kind::wrong_kind, id(1), {id(2)})));
  EXPECT_EQ(contradictions({entry(1, 0, Remark{"x", {}}), entry(2, 10, alive(5), id(1))}),
            just(one(Kind::wrong_kind, id(1), {id(2)})));
  EXPECT_TRUE(contradictions({entry(1, 0, Lost{1, LossCause::dried}, id(3)), entry(3, 0, seeds(9, 1)),
                              entry(2, 10, Remark{"x", id(1)})})
                  .empty());
}

TEST(Fold, WhatHappenedBeforeItsBatchBeganIsNamed) {
  EXPECT_EQ(contradictions(tray({entry(2, -10, Lost{1, LossCause::dried}, id(1))})),
            just(one(Kind::before_it_began, id(1), {id(2)})));
}

TEST(Fold, ABatchThatIsItsOwnAncestorIsNamed) {
  std::vector<Entry> ring{entry(1, 0, cuttings(1, {{id(3), 0}})), entry(2, 1, cuttings(2, {{id(1), 0}})),
                          entry(3, 2, cuttings(3, {{id(2), 0}})), entry(4, 3, cuttings(4, {{id(3), 0}}))};
  Fold fold = fold_of(ring);
  const auto found = fold.contradictions();
  const auto own = std::ranges::find(found, Kind::own_ancestor, &Contradiction::kind);
  ASSERT_NE(own, found.end());
  EXPECT_EQ(own->entries.size(), 3U);
  EXPECT_EQ(ancestors(fold.state(), id(4)).size(), 3U);
  EXPECT_EQ(fold.state().rings.size(), 1U);
  fold.add(entry(5, 9, Withdrawn{id(2), ""}));
  EXPECT_TRUE(fold.state().rings.empty());
  fold.add(entry(6, 9, Withdrawn{id(5), ""}));
  EXPECT_EQ(fold.state().rings.size(), 1U);

  Fold itself = fold_of(tray({entry(2, 10, group(id(1), 5), id(1))}));
  EXPECT_EQ(itself.contradictions(), just(one(Kind::own_ancestor, id(1), {id(2)})));
}

TEST(Fold, TwoBatchesWithOneCodeAreNamed) {
  std::vector both{id(1), id(2)};
  std::ranges::sort(both);
  EXPECT_EQ(contradictions(tray({entry(2, 10, seeds(5, 1))})), just(one(Kind::same_code, both.front(), both, 2)));
  EXPECT_TRUE(contradictions(tray({entry(2, 10, seeds(5, 1)), entry(3, 20, Withdrawn{id(2), ""})})).empty());
}

TEST(Fold, TwoEntriesUnderOneIdAreNamedAndOneStandsForAll) {
  const Entry a = entry(2, 10, Lost{1, LossCause::dried}, id(1));
  const Entry b = entry(2, 10, Lost{2, LossCause::dried}, id(1));
  Fold first = fold_of(tray({a, b}));
  Fold second = fold_of(tray({b, a, b}));
  EXPECT_EQ(state_text(first), state_text(second));
  EXPECT_EQ(first.contradictions(), just(one(Kind::same_id, id(2), {id(2)}, 2)));
  EXPECT_EQ(first.state().batches.at(id(1)).left, 99);
}

// Doubles.

TEST(Fold, NearTwinsFromTwoDevicesAreShownAndCount) {
  const auto doubles = [](std::int64_t apart_min, std::string device, int number, LossCause cause) {
    return fold_of(tray({entry(2, 10, Lost{3, LossCause::dried}, id(1)),
                         entry(3, 10 + apart_min, Lost{number, cause}, id(1), std::move(device))}))
        .possible_doubles();
  };
  EXPECT_EQ(doubles(4, "tablet", 3, LossCause::dried), (std::vector<PossibleDouble>{{id(1), {id(2), id(3)}}}));
  EXPECT_EQ(doubles(-4, "tablet", 3, LossCause::dried), (std::vector<PossibleDouble>{{id(1), {id(3), id(2)}}}));
  EXPECT_TRUE(doubles(11, "tablet", 3, LossCause::dried).empty());
  EXPECT_TRUE(doubles(4, "phone", 3, LossCause::dried).empty());
  EXPECT_TRUE(doubles(4, "tablet", 4, LossCause::dried).empty());
  EXPECT_TRUE(doubles(4, "tablet", 3, LossCause::eaten).empty());
}

TEST(Fold, TwinsNeedNotAgreeInNotesAndMinutesNorOnceOneIsWithdrawn) {
  Struck a = group(id(9), 4);
  Struck b = a;
  a.start = minute(3);
  b.start = minute(4);
  std::vector<Entry> entries = tray({entry(2, 10, a, id(1)), entry(3, 12, b, id(1), "tablet"),
                                     entry(4, 10, HandedOver{1, HandedHow::given, "Ann"}, id(1)),
                                     entry(5, 12, HandedOver{1, HandedHow::given, "Anne"}, id(1), "tablet")});
  EXPECT_EQ(fold_of(entries).possible_doubles().size(), 2U);
  entries.push_back(entry(6, 20, Withdrawn{id(3), ""}));
  EXPECT_EQ(fold_of(entries).possible_doubles().size(), 1U);
}

// As of.

TEST(Fold, AnEarlierMomentIsAskedAfter) {
  Fold fold = fold_of(tray({entry(2, 10, Lost{10, LossCause::dried}, id(1)), entry(3, 20, cuttings(2, {{id(1), 40}})),
                            entry(4, 30, Lost{5, LossCause::dried}, id(1)), entry(5, 40, Withdrawn{id(2), ""})}));
  EXPECT_EQ(fold.as_of(minute(15)).batches.at(id(1)).left, 100);
  EXPECT_EQ(fold.as_of(minute(15)).batches.size(), 1U);
  EXPECT_EQ(fold.as_of(minute(20)).batches.at(id(1)).left, 60);
  EXPECT_TRUE(fold.as_of(minute(-1)).batches.empty());
  EXPECT_EQ(fold.as_of(minute(100)), fold.state());
}

TEST(Fold, LastCounterIsThatOfADevice) {
  Fold fold = fold_of(tray({entry(2, 1, seeds(1, 41)), entry(3, 2, Withdrawn{id(2), ""})}));
  EXPECT_EQ(fold.last_counter(7), 41);
  EXPECT_FALSE(fold.last_counter(8));
}

TEST(Fold, EntriesOfALaterVersionAreKeptAndListed) {
  Entry later = entry(2, 10, Unread{"{}"});
  Fold fold = fold_of(tray({later}));
  EXPECT_EQ(fold.unread(), std::vector{id(2)});
  EXPECT_EQ(fold.find(id(2))->body, later.body);
  EXPECT_EQ(fold.size(), 2U);
}

}  // namespace
}  // namespace strikebed::daybook
