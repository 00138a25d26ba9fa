// Three copies of a daybook become one on each database, whatever the order, and know the same byte for byte.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "daybook/entry_json.hpp"
#include "daybook/fold.hpp"
#include "host/store/daybook_store.hpp"
#include "host/store/keys.hpp"
#include "tests/daybook/random_daybook.hpp"
#include "tests/daybook/state_text.hpp"
#include "tests/daybook/three_copies.hpp"
#include "tests/host/two_databases.hpp"

namespace strikebed::host {
namespace {

using daybook::Entry;
using daybook::Fold;

std::string state_of(DaybookStore& store) {
  Fold fold;
  auto all = store.read_all();
  EXPECT_TRUE(all) << message_of(all);
  if (all) fold.add(std::move(*all));
  return daybook::state_text(fold);
}

/// Of all entries, without any store.
std::string expected_state(const std::array<std::vector<Entry>, 3>& copies) {
  Fold fold;
  for (const auto& copy : copies) fold.add(copy);
  const auto all = fold.contradictions();
  EXPECT_EQ(std::ranges::count(all, daybook::ContradictionKind::same_code, &daybook::Contradiction::kind), 1);
  return daybook::state_text(fold);
}

class StoreMerging : public ::testing::TestWithParam<Kind> {
 protected:
  /// Three stores with a copy each.
  std::array<DaybookStore, 3> three(const std::string& name) {
    const auto store = [&](std::size_t copy) {
      DaybookStore one = opened(places.fresh(name + static_cast<char>('a' + copy)));
      EXPECT_TRUE(one.add(copies[copy]));
      return one;
    };
    return {store(0), store(1), store(2)};
  }
  Places places{GetParam()};
  std::array<std::vector<Entry>, 3> copies = daybook::three_copies();
  std::string expected = expected_state(copies);
};
INSTANTIATE_TEST_SUITE_P(Both, StoreMerging, ::testing::Values(Kind::sqlite, Kind::postgres), [](const auto& one) {
  return one.param == Kind::sqlite ? std::string("Sqlite") : std::string("Postgres");
});

TEST_P(StoreMerging, AllSixOrdersComeToTheSame) {
  std::array<std::size_t, 3> order{0, 1, 2};
  int round = 0;
  do {
    auto stores = three("order" + std::to_string(round++));
    DaybookStore& first = stores[order[0]];
    ASSERT_TRUE(exchange(first, stores[order[1]]));
    ASSERT_TRUE(exchange(first, stores[order[2]]));
    EXPECT_EQ(exchange(stores[order[1]], stores[order[2]])->here.entries, 300U);
    for (DaybookStore& store : stores) {
      EXPECT_EQ(store.ids()->size(), 900U);
      EXPECT_EQ(state_of(store), expected);
    }
  } while (std::ranges::next_permutation(order).found);
}

TEST_P(StoreMerging, OneAtATimeComesToTheSame) {
  DaybookStore store = opened(places.fresh("notes"));
  std::vector<Entry> all;
  for (const auto& copy : copies) all.insert(all.end(), copy.begin(), copy.end());
  daybook::RandomDaybook(3).shuffle(all);
  for (const Entry& one : all) ASSERT_EQ(store.add({one})->entries, 1U);
  EXPECT_EQ(state_of(store), expected);
}

// A cursor over what was written since the last time would pass it by.
TEST(StoreMergingAcross, ATransactionHeldOpenPastAnExchangeIsMissedByNone) {
  Places files(Kind::sqlite);
  Places database(Kind::postgres);
  const auto copies = daybook::three_copies();
  const std::string where = database.fresh("held");
  DaybookStore held = opened(where);
  DaybookStore other = opened(database.fresh("other"));
  DaybookStore third = opened(files.fresh("third"));
  ASSERT_TRUE(other.add(copies[1]));
  ASSERT_TRUE(third.add(copies[2]));
  // It begins first and is committed last.
  const auto late = Places::open(where);
  ASSERT_EQ(late->begin(Transaction::writing), std::nullopt);
  for (const Entry& one : copies[0]) {
    const std::string key = key_of(one.id);
    const std::string json = entry_json(one);
    ASSERT_TRUE(
        late->run("INSERT INTO daybook_entry (id, json) VALUES ($1, $2)", {Bytes{key}, std::string_view(json)}));
  }
  EXPECT_EQ(*exchange(held, other), (Exchanged{{300, 0}, {0, 0}}));
  EXPECT_EQ(*exchange(other, third), (Exchanged{{300, 0}, {300, 0}}));
  ASSERT_EQ(late->commit(), std::nullopt);
  EXPECT_EQ(*exchange(third, held), (Exchanged{{300, 0}, {300, 0}}));
  EXPECT_EQ(*exchange(other, held), (Exchanged{{300, 0}, {0, 0}}));
  const std::string expected = expected_state(copies);
  for (DaybookStore* store : {&held, &other, &third}) EXPECT_EQ(state_of(*store), expected);
}

// Between the two databases.
TEST(StoreMergingAcross, AFileAndADatabaseAreCopiesLikeAnyOther) {
  Places files(Kind::sqlite);
  Places database(Kind::postgres);
  const auto copies = daybook::three_copies();
  DaybookStore first = opened(files.fresh("first"));
  DaybookStore middle = opened(database.fresh("middle"));
  DaybookStore last = opened(files.fresh("last"));
  ASSERT_TRUE(first.add(copies[0]));
  ASSERT_TRUE(middle.add(copies[1]));
  ASSERT_TRUE(last.add(copies[2]));
  ASSERT_TRUE(exchange(first, middle));
  ASSERT_TRUE(exchange(middle, last));
  ASSERT_TRUE(exchange(first, middle));
  const std::string expected = expected_state(copies);
  for (DaybookStore* store : {&first, &middle, &last}) EXPECT_EQ(state_of(*store), expected);
}

}  // namespace
}  // namespace strikebed::host
