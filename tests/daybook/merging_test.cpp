// Copies that hold the same entries know the same, byte for byte, however the entries came to them; and what it costs.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <set>
#include <string>
#include <vector>

#include "daybook/fold.hpp"
#include "tests/daybook/making.hpp"
#include "tests/daybook/random_daybook.hpp"
#include "tests/daybook/state_text.hpp"
#include "tests/daybook/three_copies.hpp"

namespace strikebed::daybook {
namespace {

std::string text_of(std::vector<Entry> entries) {
  Fold fold;
  fold.add(std::move(entries));
  return state_text(fold);
}

/// The numbers of a batch add up.
void expect_conserved(const State& state) {
  for (const auto& [id, batch] : state.batches) {
    if (!batch.begun_with) continue;
    Plants out = batch.moved_on + batch.given + batch.sold + batch.used_up + batch.unaccounted;
    for (const Plants lost : batch.losses) out += lost;
    EXPECT_EQ(*batch.begun_with + batch.brought - out, batch.left) << batch.code;
  }
}

TEST(Merging, ShuffledSplitMergedDelayedAndRepeatedEntriesComeToTheSame) {
  std::set<ContradictionKind> seen;
  std::size_t doubles = 0;
  for (std::uint64_t seed = 1; seed <= 12; ++seed) {
    RandomDaybook random(seed);
    const std::vector<Entry> entries = random.entries(1200);
    for (const Entry& one : entries) ASSERT_FALSE(error_of(one)) << entry_json(one) << error_of(one)->message();
    Fold whole;
    whole.add(entries);
    for (const Contradiction& one : whole.contradictions()) seen.insert(one.kind);
    doubles += whole.possible_doubles().size();
    const std::string expected = state_text(whole);

    std::vector<Entry> shuffled = entries;
    random.shuffle(shuffled);
    EXPECT_EQ(text_of(shuffled), expected);

    // Three copies that share some, asked in between, merged into one with all that came twice and thrice.
    std::array<Fold, 3> copies;
    std::vector<Entry> merged;
    for (const Entry& one : shuffled) {
      const std::size_t to = 1 + random.below(7);
      for (std::size_t copy = 0; copy < copies.size(); ++copy) {
        if ((to >> copy & 1) == 0) continue;
        copies[copy].add(one);
        merged.push_back(one);
        if (random.below(50) == 0) static_cast<void>(copies[copy].state());
      }
    }
    random.shuffle(merged);
    for (Fold& copy : copies) {
      for (const Entry& one : merged) {
        copy.add(one);
        if (random.below(200) == 0) static_cast<void>(copy.contradictions());
      }
      EXPECT_EQ(state_text(copy), expected);
      expect_conserved(copy.state());
    }
  }
  // The random entries come to all that may be wrong; but rings of withdrawals need ids that are known beforehand.
  EXPECT_EQ(seen.size(), 7U);
  EXPECT_GT(doubles, 10U);
}

TEST(Merging, OneAtATimeWithTheStateAskedAfterEach) {
  RandomDaybook random(77);
  std::vector<Entry> entries = random.entries(400);
  random.shuffle(entries);
  Fold fold;
  std::vector<Entry> so_far;
  for (const Entry& one : entries) {
    fold.add(one);
    so_far.push_back(one);
    static_cast<void>(fold.state());
    if (so_far.size() % 20 != 0) continue;
    ASSERT_EQ(state_text(fold), text_of(so_far));
  }
}

TEST(Merging, AsOfAMomentIsTheFoldOfWhatHappenedUntilThen) {
  RandomDaybook random(5);
  const std::vector<Entry> entries = random.entries(800);
  Fold fold;
  fold.add(entries);
  for (const int at : {500, 2000, 4000}) {
    // What happened until then, and all withdrawals that stand or fall with what came later.
    Fold until;
    for (const Entry& one : entries) {
      if (one.happened.ms <= minute(at).ms && fold.stands(one.id)) until.add(one);
    }
    const State then = fold.as_of(minute(at));
    EXPECT_EQ(then.stocks.size(), until.state().stocks.size());
    ASSERT_EQ(then.batches.size(), until.state().batches.size());
    for (const auto& [id, batch] : then.batches) {
      Batch expected = until.state().batches.at(id);
      // Withdrawals are no part of what happened to a batch, but stand in its history.
      EXPECT_EQ(batch.left, expected.left);
      EXPECT_EQ(batch.looks, expected.looks);
      EXPECT_EQ(batch.losses, expected.losses);
      EXPECT_EQ(batch.from, expected.from);
      EXPECT_EQ(batch.bench, expected.bench);
    }
    EXPECT_EQ(then.rings, until.state().rings);
  }
}

TEST(Merging, ThreeCopiesInAllSixOrdersAndOneAtATime) {
  const auto copies = three_copies();
  std::array<std::size_t, 3> order{0, 1, 2};
  std::string expected;
  do {
    Fold fold;
    for (const std::size_t copy : order) {
      fold.add(copies[copy]);
      static_cast<void>(fold.state());
    }
    const std::string text = state_text(fold);
    if (expected.empty()) expected = text;
    EXPECT_EQ(text, expected);
  } while (std::ranges::next_permutation(order).found);

  std::vector<Entry> all;
  for (const auto& copy : copies) all.insert(all.end(), copy.begin(), copy.end());
  RandomDaybook random(3);
  random.shuffle(all);
  Fold fold;
  for (const Entry& one : all) {
    fold.add(one);
    static_cast<void>(fold.state());
  }
  EXPECT_EQ(state_text(fold), expected);
  EXPECT_EQ(fold.size(), 900U);

  std::vector<Contradiction> codes;
  for (const Contradiction& one : fold.contradictions()) {
    if (one.kind == ContradictionKind::same_code) codes.push_back(one);
  }
  std::vector both{id(10'000), id(20'000)};
  std::ranges::sort(both);
  ASSERT_EQ(codes.size(), 1U);
  EXPECT_EQ(codes[0].entries, both);
  EXPECT_FALSE(fold.stands(copies[2][201].id));
  EXPECT_FALSE(fold.stands(copies[0][11].id));
}

// What it costs, counted and not timed.

/// Batches of 40 entries each.
std::vector<Entry> steady(std::uint64_t batches) {
  std::vector<Entry> all;
  for (std::uint64_t batch = 0; batch < batches; ++batch) {
    all.push_back(entry(batch * 100, 0, seeds(100, static_cast<std::int64_t>(batch))));
    for (std::uint64_t i = 1; i < 40; ++i) {
      all.push_back(entry(batch * 100 + i, static_cast<std::int64_t>(i), Lost{1, LossCause::dried}, id(batch * 100)));
    }
  }
  return all;
}

TEST(Work, GrowsAsTheEntriesDo) {
  const auto work = [](std::uint64_t batches) {
    std::vector<Entry> entries = steady(batches);
    RandomDaybook(9).shuffle(entries);
    Fold fold;
    fold.add(std::move(entries));
    static_cast<void>(fold.state());
    return fold.work();
  };
  EXPECT_LE(work(500), 10 * work(50) + 100);
  EXPECT_LE(work(500), 3 * 500 * 40U);
}

TEST(Work, AnEntryFoldsOnlyItsOwnBatchAnew) {
  Fold fold;
  fold.add(steady(500));
  static_cast<void>(fold.state());
  const std::uint64_t before = fold.work();
  fold.add(entry(1'000'000, 99, Lost{1, LossCause::rotted}, id(4200)));
  static_cast<void>(fold.state());
  EXPECT_LE(fold.work() - before, 50U);
  fold.add(entry(1'000'001, 99, Withdrawn{id(4201), ""}));
  static_cast<void>(fold.state());
  EXPECT_LE(fold.work() - before, 120U);
}

TEST(Work, ALongLineOfDescentIsWalkedOnceAndNotForEachOfIt) {
  std::vector<Entry> line{entry(0, 0, seeds(100, 0))};
  for (std::uint64_t i = 1; i < 5000; ++i) {
    line.push_back(entry(i, static_cast<std::int64_t>(i), cuttings(static_cast<std::int64_t>(i), {{id(i - 1), 1}})));
  }
  RandomDaybook(4).shuffle(line);
  Fold fold;
  fold.add(line);
  EXPECT_TRUE(fold.state().rings.empty());
  EXPECT_LE(fold.work(), 5000U * 6);
  EXPECT_EQ(ancestors(fold.state(), id(4999)).size(), 4999U);
  fold.add(entry(9000, 1, group(id(0), 1), id(4999)));
  EXPECT_EQ(fold.state().rings.at(0).size(), 5000U);
}

TEST(Work, ALongLineOfWithdrawalsIsFollowedOnce) {
  std::vector<Entry> line{entry(0, 0, Remark{"x", {}})};
  for (std::uint64_t i = 1; i <= 5001; ++i) line.push_back(entry(i, 1, Withdrawn{id(i - 1), ""}));
  RandomDaybook(4).shuffle(line);
  Fold fold;
  fold.add(line);
  EXPECT_FALSE(fold.stands(id(0)));
  EXPECT_TRUE(fold.stands(id(1)));
  EXPECT_FALSE(fold.stands(id(2)));
  EXPECT_LE(fold.work(), 5002U * 8);
}

}  // namespace
}  // namespace strikebed::daybook
