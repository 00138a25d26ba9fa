// Entries as CSV: exact both ways, with the line of what is wrong.
#include "daybook/entry_csv.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "daybook/entry_json.hpp"
#include "daybook/read_fields.hpp"
#include "tests/daybook/making.hpp"
#include "tests/daybook/one_of_each.hpp"
#include "tests/daybook/random_daybook.hpp"

namespace strikebed::daybook {
namespace {

TEST(EntryCsv, GoesRoundExactly) {
  std::vector<Entry> entries = one_of_each();
  const std::vector<Entry> more = RandomDaybook(8).entries(300);
  entries.insert(entries.end(), more.begin(), more.end());
  entries.push_back(entry(1, 0, Remark{"two\nlines, \"quoted\"\r\nand a third\r", {}}));
  entries.push_back(*read_entry(R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","size":1.50,"of":"a,b"})"));
  const std::string csv = entries_csv(entries);
  const auto read = read_entries_csv(csv);
  ASSERT_TRUE(read) << read.error().message();
  EXPECT_EQ(*read, entries);
  EXPECT_EQ(entries_csv(*read), csv);
}

TEST(EntryCsv, ColumnsStandOnce) {
  std::vector<std::string_view> columns = csv_columns();
  EXPECT_EQ(columns.front(), "v");
  EXPECT_EQ(columns.back(), "unread");
  // No field of a body may have the name of a key beside it.
  each_kind([&]<class B>() {
    B body{};
    B::fields(body, [&](const Field& field, const auto&) {
      EXPECT_GE(std::ranges::find(columns, field.name) - columns.begin(), 9) << field.name;
      EXPECT_NE(field.name, columns.back());
    });
  });
  std::ranges::sort(columns);
  EXPECT_TRUE(std::ranges::adjacent_find(columns) == columns.end());
}

TEST(EntryCsv, AColumnIsReadWhereverItStands) {
  const Entry loss = entry(1, 0, Lost{2, LossCause::dried}, id(9));
  const std::string moment = to_iso(loss.happened);
  const std::string csv =
      "\xef\xbb\xbf"
      "cause,number,id,v,device,kind,written,happened,batch\r\n"
      "dried,2," +
      to_text(loss.id) + ",1,phone,lost," + moment + "," + moment + "," + to_text(id(9)) + "\r\n\r\n";
  const auto read = read_entries_csv(csv);
  ASSERT_TRUE(read) << read.error().message();
  EXPECT_EQ(*read, std::vector{loss});
}

TEST(EntryCsv, SaysTheLineOfEachThatIsWrong) {
  const std::vector<Entry> entries{entry(1, 0, Remark{"two\nlines", {}}), entry(2, 0, Lost{2, LossCause::dried}, id(9)),
                                   entry(3, 0, Lost{4, LossCause::eaten}, id(9))};
  std::string csv = entries_csv(entries);
  csv.replace(csv.find("dried"), 5, "frozen");
  csv.replace(csv.find(",4,"), 3, ",-4,");
  const auto read = read_entries_csv(csv);
  ASSERT_FALSE(read);
  const auto messages = read.error().messages();
  ASSERT_EQ(messages.size(), 2U);
  EXPECT_EQ(messages[0].substr(0, 26), "4: cause: found \"frozen\"; ");
  EXPECT_EQ(messages[1], "5: number: found -4; allowed: a whole number from 1 to 1000000");

  EXPECT_EQ(read_entries_csv("id,colour\n").error().message().substr(0, 36), "1: colour: there is no such column; ");
  EXPECT_EQ(read_entries_csv("kind\n").error().message(), "1: id: is missing; allowed: a column of ids");
  EXPECT_EQ(read_entries_csv("id,kind\na\n").error().message(), "2: found 1 cells; allowed: 2");
  EXPECT_EQ(read_entries_csv("id\n\"a\n").error().message(),
            "2: a quotation mark does not close; allowed: another one at the end of the cell");
  EXPECT_EQ(read_entries_csv("").error().message().substr(0, 29), "1: there is no such column; a");
}

TEST(EntryCsv, WhatBelongsToAnotherKindIsRefused) {
  std::string csv = entries_csv({entry(2, 0, Lost{2, LossCause::dried}, id(9))});
  csv.replace(csv.find("lost"), 4, "moved");
  const auto messages = read_entries_csv(csv).error().messages();
  ASSERT_EQ(messages.size(), 3U);
  EXPECT_EQ(messages[0], "2: bench: is missing; allowed: a text, in bytes from 1 to 100");
  EXPECT_EQ(messages[1], "2: cause: there is no such field; allowed: bench");
}

}  // namespace
}  // namespace strikebed::daybook
