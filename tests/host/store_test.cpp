// The daybook's store, on SQLite and on PostgreSQL alike: what goes in comes out, what is wrong is refused whole.
#include <gtest/gtest.h>

#include <algorithm>
#include <atomic>
#include <string>
#include <thread>
#include <vector>

#include "daybook/entry_json.hpp"
#include "daybook/fold.hpp"
#include "host/files.hpp"
#include "host/store/daybook_store.hpp"
#include "host/store/portable.hpp"
#include "tests/daybook/making.hpp"
#include "tests/daybook/one_of_each.hpp"
#include "tests/daybook/random_daybook.hpp"
#include "tests/host/two_databases.hpp"

namespace strikebed::host {
namespace {

using daybook::Attachment;
using daybook::Entry;
using daybook::EntryId;
using daybook::id;

class Store : public ::testing::TestWithParam<Kind> {
 protected:
  Places places{GetParam()};
};
INSTANTIATE_TEST_SUITE_P(Both, Store, ::testing::Values(Kind::sqlite, Kind::postgres), [](const auto& one) {
  return one.param == Kind::sqlite ? std::string("Sqlite") : std::string("Postgres");
});

Entry remark(std::uint64_t number, std::string text = "seen") {
  return daybook::entry(number, static_cast<std::int64_t>(number % 1000), daybook::Remark{std::move(text), {}});
}

Attachment attached(std::string bytes) { return {daybook::sha256(bytes), std::move(bytes)}; }

Entry photo(std::uint64_t number, const Attachment& of) {
  return daybook::entry(number, 1,
                        daybook::PhotoAttached{.sha256 = daybook::to_text(of.sha256),
                                               .media_type = "image/jpeg",
                                               .size_bytes = static_cast<int>(of.bytes.size()),
                                               .about = {}});
}

std::vector<Entry> in_order(std::vector<Entry> entries) {
  std::ranges::sort(entries, {}, &Entry::id);
  return entries;
}

std::vector<Entry> all_of(DaybookStore& store) {
  auto all = store.read_all();
  EXPECT_TRUE(all) << message_of(all);
  return all ? in_order(std::move(*all)) : std::vector<Entry>();
}

TEST_P(Store, KeepsWhatIsAddedOnceAndForTheNextOpening) {
  const std::string where = places.fresh("notes");
  std::vector<Entry> entries = daybook::one_of_each();
  entries.push_back(*daybook::read_entry(R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","later":[1.50,"\u0000"]})"));
  {
    DaybookStore store = opened(where);
    EXPECT_EQ(*store.add(entries), (Added{entries.size(), 0}));
    EXPECT_EQ(*store.add(entries), Added{});
    std::vector<Entry> more = entries;
    more.push_back(remark(7, "\xc3\xa4\xf0\x9f\x8c\xb2 \"'\\ \n $1 %s"));
    EXPECT_EQ(*store.add(more), (Added{1, 0}));
    entries = more;
    EXPECT_EQ(*store.add({}), Added{});
  }
  DaybookStore store = opened(where, Access::read);
  EXPECT_EQ(all_of(store), in_order(entries));
  std::vector<EntryId> ids;
  for (const Entry& one : in_order(entries)) ids.push_back(one.id);
  EXPECT_EQ(*store.ids(), ids);
  EXPECT_EQ(*store.number_of_entries(), ids.size());
  for (const Entry& one : entries) EXPECT_EQ(*store.find(one.id), one);
  EXPECT_EQ(*store.find(id(123456)), std::nullopt);
}

TEST_P(Store, TwiceInOneAddingIsOnce) {
  DaybookStore store = opened(places.fresh("notes"));
  EXPECT_EQ(*store.add({remark(1), remark(2), remark(1)}), (Added{2, 0}));
  EXPECT_EQ(all_of(store).size(), 2U);
}

TEST_P(Store, RefusesAnotherEntryUnderAnIdAndAllThatCameWithIt) {
  DaybookStore store = opened(places.fresh("notes"));
  ASSERT_TRUE(store.add({remark(1)}));
  const auto refused = store.add({remark(2), remark(1, "changed"), remark(3)});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().message(),
            store.name() + ": another entry is there already under the id " + daybook::to_text(id(1)) +
                "; allowed: entries as they were written: a mistake is withdrawn, not changed");
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
  EXPECT_FALSE(store.add({remark(4), remark(4, "another")}));
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
  EXPECT_EQ(*store.add({remark(2)}), (Added{1, 0})) << "nothing is left of what was refused";
}

TEST_P(Store, AnEntryThatSaysTheSameInOtherWordsIsTheSame) {
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  // As a program may have kept it that did not know its kind yet.
  const std::string json = entry_json(remark(1));
  const std::string other = "{\"v\":1, " + json.substr(7);
  const EntryId own = id(1);
  std::string key(16, '\0');
  for (std::size_t i = 0; i < 16; ++i) {
    key[i] = static_cast<char>((i < 8 ? own.high : own.low) >> (56 - 8 * (i % 8)));
  }
  ASSERT_TRUE(Places::open(where)->run("INSERT INTO daybook_entry (id, json) VALUES ($1, $2)",
                                       {Bytes{key}, std::string_view(other)}));
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
  EXPECT_EQ(*store.add({remark(1)}), Added{});
  EXPECT_FALSE(store.add({remark(1, "changed")}));
}

TEST_P(Store, RefusesWhatCouldNotBeReadAgain) {
  DaybookStore store = opened(places.fresh("notes"));
  const auto refused = store.add({remark(1), daybook::entry(2, 0, daybook::Lost{0, daybook::LossCause::dried}, id(1))});
  EXPECT_EQ(message_of(refused), "body.number: found 0; allowed: a whole number from 1 to 1000000");
  EXPECT_FALSE(store.add({remark(3, "no UTF-8: \xff")}));
  EXPECT_TRUE(all_of(store).empty());
}

TEST_P(Store, SaysWhichEntryCannotBeRead) {
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  ASSERT_TRUE(store.add({remark(1)}));
  ASSERT_TRUE(Places::open(where)->run("INSERT INTO daybook_entry (id, json) VALUES ($1, $2)",
                                       {Bytes{std::string_view("0123456789abcdef")}, std::string_view("{}")}));
  const auto read = store.read_all();
  EXPECT_EQ(message_of(read), store.name() +
                                  ": the entry 30313233343536373839616263646566 cannot be read: v: is "
                                  "missing; allowed: the version of the format, a whole number from 1; "
                                  "allowed: a backup of the daybook");
  EXPECT_EQ(*store.find(id(1)), remark(1)) << "others can";
}

TEST_P(Store, IsOnlyAddedTo) {
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  const Attachment picture = attached("picture");
  ASSERT_TRUE(store.add({remark(1), photo(2, picture)}, {picture}));
  const auto database = Places::open(where);
  for (const std::string_view sql : {"UPDATE daybook_entry SET json = 'x'", "DELETE FROM daybook_entry",
                                     "UPDATE daybook_attachment SET bytes = sha256", "DELETE FROM daybook_attachment",
                                     "DELETE FROM daybook_migration", "UPDATE daybook_migration SET version = 9"}) {
    const auto done = database->run(sql);
    ASSERT_FALSE(done) << sql;
    EXPECT_NE(done.error().problem.find("a daybook is only added to"), std::string::npos) << done.error().message();
  }
  EXPECT_EQ(all_of(store), in_order({remark(1), photo(2, picture)}));
  EXPECT_EQ(*store.attachment(picture.sha256), picture.bytes);
}

TEST(SqliteStore, NothingIsReplacedOrDisplaced) {
  Places places(Kind::sqlite);
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  ASSERT_TRUE(store.add({remark(1)}));
  const auto database = Places::open(where);
  EXPECT_EQ(*database->run("INSERT OR REPLACE INTO daybook_entry SELECT id, 'x' FROM daybook_entry"), 0);
  EXPECT_FALSE(database->run(
      "REPLACE INTO daybook_entry (rowid, id, json) SELECT rowid, randomblob(16), 'x' FROM daybook_entry"));
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
}

TEST(PostgresStore, IsNotEmptied) {
  Places places(Kind::postgres);
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  ASSERT_TRUE(store.add({remark(1)}));
  EXPECT_FALSE(Places::open(where)->run("TRUNCATE daybook_entry"));
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
}

// As a database that is like PostgreSQL but for its triggers: here, a user who may not use their language.
TEST(PostgresStore, WithoutTriggersItIsUsedWithout) {
  Places places(Kind::postgres);
  const std::string where = places.fresh("notes");
  const auto owner = Places::open(where);
  ASSERT_TRUE(owner->run("REVOKE USAGE ON LANGUAGE plpgsql FROM PUBLIC"));
  ASSERT_TRUE(owner->run("CREATE ROLE plain LOGIN"));
  const std::string schema = where.substr(where.find("%3D") + 3);
  ASSERT_TRUE(owner->run("ALTER SCHEMA " + schema + " OWNER TO plain"));
  std::string as_plain = where;
  as_plain.replace(as_plain.find("grower"), 6, "plain");
  {
    DaybookStore store = opened(as_plain);
    EXPECT_TRUE(store.add({remark(1)}));
    EXPECT_EQ(all_of(store), std::vector{remark(1)});
  }
  EXPECT_EQ(*owner->run("SELECT tgname FROM pg_trigger WHERE tgrelid = 'daybook_entry'::regclass"), 0);
  EXPECT_EQ(*opened(as_plain, Access::write).find(id(1)), remark(1));
  EXPECT_TRUE(owner->run("DROP SCHEMA " + schema + " CASCADE"));
  EXPECT_TRUE(owner->run("CREATE SCHEMA " + schema));
  EXPECT_TRUE(owner->run("DROP ROLE plain"));
  EXPECT_TRUE(owner->run("GRANT USAGE ON LANGUAGE plpgsql TO PUBLIC"));
}

TEST(PostgresStore, AConnectionThatWasLostIsMadeAgain) {
  Places places(Kind::postgres);
  const std::string where = places.fresh("notes");
  const std::string name = where.substr(where.find("%3D") + 3);
  DaybookStore store = opened(where + "&application_name=" + name);
  ASSERT_TRUE(store.add({remark(1)}));
  ASSERT_EQ(
      *Places::open(where)->run("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = $1",
                                {std::string_view(name)}),
      1);
  const auto lost = store.add({remark(2)});
  EXPECT_EQ(message_of(lost), store.name() +
                                  ": the connection to the database was lost; what was being written may be "
                                  "there or not; allowed: to try again: what is there already is not added "
                                  "twice");
  EXPECT_TRUE(store.add({remark(2)}));
  EXPECT_EQ(all_of(store).size(), 2U);
}

TEST_P(Store, KeepsAttachmentsByTheirDigest) {
  DaybookStore store = opened(places.fresh("notes"));
  const Attachment one = attached(std::string("\0\xff\x01 of any bytes", 16));
  const Attachment other = attached(std::string(300'000, 'x'));
  ASSERT_TRUE(store.add({photo(1, one), photo(2, other), photo(3, one), remark(4, "\"kind\":\"photo_attached\"")}));
  std::vector both{one.sha256, other.sha256};
  std::ranges::sort(both);
  EXPECT_EQ(*store.missing_attachments(), both);
  EXPECT_EQ(*store.attachment(one.sha256), std::nullopt);
  EXPECT_EQ(*store.add({}, {one, one}), (Added{0, 1}));
  EXPECT_EQ(*store.missing_attachments(), std::vector{other.sha256});
  EXPECT_EQ(*store.add({}, {other}), (Added{0, 1}));
  EXPECT_EQ(*store.attachment(one.sha256), one.bytes);
  EXPECT_EQ(*store.attachment(other.sha256), other.bytes);
  EXPECT_EQ(*store.attachments(), both);
  EXPECT_TRUE(store.missing_attachments()->empty());

  EXPECT_EQ(message_of(store.add({remark(9)}, {{one.sha256, "another"}})),
            store.name() + ": the attachment " + daybook::to_text(one.sha256) +
                " is not what its digest says; allowed: its own SHA-256");
  EXPECT_EQ(message_of(store.add({remark(9)}, {attached("")})), store.name() + ": the attachment " +
                                                                    daybook::to_text(daybook::sha256("")) +
                                                                    " has 0 bytes; allowed: from 1 to 67108864");
  EXPECT_EQ(*store.find(id(9)), std::nullopt);
}

TEST_P(Store, WhatIsOpenedToBeReadIsNotWritten) {
  const std::string where = places.fresh("notes");
  EXPECT_FALSE(DaybookStore::open(where, Access::read));
  EXPECT_FALSE(DaybookStore::open(where, Access::write));
  ASSERT_TRUE(opened(where).add({remark(1)}));
  DaybookStore store = opened(where, Access::read);
  const auto refused = store.add({remark(2)});
  ASSERT_FALSE(refused);
  EXPECT_TRUE(refused.error().problem.starts_with("this daybook may not be written to")) << refused.error().message();
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
}

TEST_P(Store, OneFromALaterVersionIsLeftAlone) {
  const std::string where = places.fresh("notes");
  ASSERT_TRUE(opened(where).add({remark(1)}));
  ASSERT_TRUE(Places::open(where)->run("INSERT INTO daybook_migration (version, what) VALUES (2, 'of a later year')"));
  for (const Access access : {Access::read, Access::write, Access::create}) {
    const auto store = DaybookStore::open(where, access);
    ASSERT_FALSE(store);
    EXPECT_EQ(store.error().problem, "a later version of this program wrote this daybook (version 2 of its tables)");
    EXPECT_EQ(store.error().allowed, "version 1 or earlier");
  }
}

TEST_P(Store, TwoThatBeginItAtOnceBothFindIt) {
  for (int i = 0; i < 10; ++i) {
    const std::string where = places.fresh("both" + std::to_string(i));
    const auto add = [&](std::uint64_t number) {
      auto store = DaybookStore::open(where, Access::create);
      EXPECT_TRUE(store) << message_of(store);
      if (store) {
        EXPECT_TRUE(store->add({remark(number)}));
      }
    };
    std::thread one(add, 1);
    add(2);
    one.join();
    DaybookStore store = opened(where);
    EXPECT_EQ(all_of(store).size(), 2U);
  }
}

TEST_P(Store, ManyThatAddTheSameAtOnceAddItOnce) {
  const std::string where = places.fresh("notes");
  std::vector<Entry> entries;
  for (std::uint64_t i = 0; i < 400; ++i) entries.push_back(remark(i));
  opened(where);
  std::atomic<std::size_t> added = 0;
  std::vector<std::thread> writers;
  for (std::uint64_t writer = 0; writer < 4; ++writer) {
    writers.emplace_back([&, writer] {
      DaybookStore store = opened(where);
      std::vector<Entry> own = entries;
      daybook::RandomDaybook(writer + 1).shuffle(own);
      for (std::size_t first = 0; first < own.size(); first += 50) {
        const auto some = own.begin() + static_cast<std::ptrdiff_t>(first);
        const auto done = store.add(std::vector<Entry>(some, some + 50));
        EXPECT_TRUE(done) << message_of(done);
        if (done) added += done->entries;
      }
    });
  }
  for (std::thread& writer : writers) writer.join();
  EXPECT_EQ(added, entries.size());
  DaybookStore store = opened(where);
  EXPECT_EQ(all_of(store), in_order(entries));
}

// Exchange.

TEST_P(Store, TwoBecomeOneSet) {
  DaybookStore here = opened(places.fresh("here"));
  DaybookStore there = opened(places.fresh("there"));
  const std::vector<Entry> entries = daybook::RandomDaybook(6).entries(3000);
  const Attachment mine = attached("mine");
  const Attachment yours = attached("yours");
  std::vector<Entry> first(entries.begin(), entries.begin() + 2400);
  std::vector<Entry> second(entries.begin() + 600, entries.end());
  first.push_back(photo(1, mine));
  second.push_back(photo(2, yours));
  ASSERT_TRUE(here.add(first, {mine}));
  ASSERT_TRUE(there.add(second, {yours}));

  const auto done = exchange(here, there);
  ASSERT_TRUE(done) << message_of(done);
  EXPECT_EQ(*done, (Exchanged{{601, 1}, {601, 1}}));
  EXPECT_EQ(all_of(here), all_of(there));
  EXPECT_EQ(all_of(here).size(), 3002U);
  EXPECT_EQ(*there.attachment(mine.sha256), "mine");
  EXPECT_EQ(*here.attachment(yours.sha256), "yours");
  EXPECT_EQ(*exchange(here, there), Exchanged{});
  EXPECT_EQ(*exchange(there, here), Exchanged{});
}

TEST_P(Store, AnswersAsItsEntriesInMemoryWould) {
  DaybookStore store = opened(places.fresh("notes"));
  const std::vector<Entry> entries = daybook::RandomDaybook(8).entries(500);
  ASSERT_TRUE(store.add(entries));
  daybook::Fold fold;
  fold.add(entries);
  const std::vector<Entry> more{remark(5), remark(6)};
  fold.add(more);
  const daybook::Message asked{daybook::opening({}).ranges, {entries[3].id, id(999'999)}, more};
  const daybook::Message expected = daybook::answer(fold.ids(), asked, [&](const EntryId& one) {
    const Entry* found = fold.find(one);
    return found ? std::optional(*found) : std::nullopt;
  });
  EXPECT_EQ(*store.answer(asked), expected);
  EXPECT_EQ(*store.find(id(6)), remark(6));
  EXPECT_EQ(message_of(store.answer({{}, {}, {remark(7), remark(5, "changed")}})).substr(0, store.name().size() + 33),
            store.name() + ": another entry is there already ");
  EXPECT_EQ(*store.find(id(7)), std::nullopt);
}

// Backup, export and import.

TEST_P(Store, ABackupIsADaybookOfItsOwn) {
  DaybookStore store = opened(places.fresh("notes"));
  const Attachment picture = attached("picture");
  std::vector<Entry> entries = daybook::one_of_each();
  entries.push_back(photo(1, picture));
  ASSERT_TRUE(store.add(entries, {picture}));
  const std::string path = places.file("backup.daybook");
  ASSERT_EQ(store.backup(path), std::nullopt);
  {
    DaybookStore backup = opened(path, Access::read);
    EXPECT_EQ(all_of(backup), in_order(entries));
    EXPECT_EQ(*backup.attachment(picture.sha256), "picture");
  }
  for (const std::string& name : places.folder().names()) {
    EXPECT_TRUE(name == "backup.daybook" || name.starts_with("notes.daybook")) << name << " was left";
  }
  // The next takes its place; and it can be written into.
  ASSERT_TRUE(store.add({remark(2)}));
  ASSERT_EQ(store.backup(path), std::nullopt);
  DaybookStore backup = opened(path, Access::write);
  EXPECT_EQ(*backup.find(id(2)), remark(2));
  EXPECT_TRUE(backup.add({remark(3)}));
  EXPECT_EQ(store.backup(path)->message(), path +
                                               ": there is a daybook of this name that is in use; it would be lost; "
                                               "allowed: a new name, or that of an earlier backup");
}

TEST_P(Store, ABackupGoesNowhereElse) {
  DaybookStore store = opened(places.fresh("notes"));
  ASSERT_TRUE(store.add({remark(1)}));
  ASSERT_EQ(write_file(places.file("letter.txt"), "dear"), std::nullopt);
  EXPECT_EQ(store.backup(places.file("letter.txt"))->problem,
            "there is a file of this name already that is no daybook; it would be lost");
  EXPECT_EQ(*read_file(places.file("letter.txt")), "dear");
  EXPECT_EQ(store.backup(places.file("no/such/file"))->problem, "cannot write this file: its folder does not exist");
  EXPECT_EQ(store.backup(places.file(""))->problem, "cannot write this file: there is a folder of that name");
  if (GetParam() == Kind::sqlite) {
    EXPECT_EQ(store.backup(store.name())->problem, "this is the daybook itself");
  }
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
}

// Each adding is of two, so that a backup with half of one would show.
TEST_P(Store, ABackupIsOfOneMomentWhileOthersWrite) {
  const std::string where = places.fresh("notes");
  DaybookStore store = opened(where);
  std::atomic<bool> is_done = false;
  std::atomic<std::uint64_t> written = 0;
  std::thread writer([&] {
    DaybookStore own = opened(where);
    while (!is_done || written < 4) {
      EXPECT_TRUE(own.add({remark(2 * written), remark(2 * written + 1)}));
      ++written;
    }
  });
  for (int i = 0; i < 8; ++i) {
    const std::uint64_t before = written;
    const std::string path = places.file("backup" + std::to_string(i));
    const auto failed = store.backup(path);
    EXPECT_EQ(failed, std::nullopt) << failed->message();
    DaybookStore backup = opened(path, Access::read);
    const std::size_t number = backup.ids()->size();
    EXPECT_EQ(number % 2, 0U);
    EXPECT_GE(number, 2 * before) << "all that was acknowledged by then";
    for (std::uint64_t one = 0; one < number; ++one) EXPECT_NE(*backup.find(id(one)), std::nullopt);
  }
  is_done = true;
  writer.join();
}

TEST_P(Store, GoesOutAndIntoAnotherExactly) {
  DaybookStore store = opened(places.fresh("notes"));
  const Attachment picture = attached(std::string("\0\xff", 2));
  std::vector<Entry> entries = daybook::one_of_each();
  const std::vector<Entry> more = daybook::RandomDaybook(3).entries(500);
  entries.insert(entries.end(), more.begin(), more.end());
  entries.push_back(photo(1, picture));
  entries.push_back(*daybook::read_entry(R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","later":1.50})"));
  ASSERT_TRUE(store.add(entries, {picture}));

  const auto as_json = [](DaybookStore& from) {
    std::string text;
    const auto failed = export_json(from, [&](std::string_view part) {
      text += part;
      return std::optional<Error>();
    });
    EXPECT_EQ(failed, std::nullopt);
    return text;
  };
  ASSERT_EQ(write_file(places.file("all.json"), as_json(store)), std::nullopt);
  ASSERT_EQ(write_file(places.file("all.csv"), *export_csv(store)), std::nullopt);

  DaybookStore from_json = opened(places.fresh("from_json"));
  EXPECT_EQ(*import_file(from_json, places.file("all.json")), (Added{entries.size(), 1}));
  EXPECT_EQ(all_of(from_json), in_order(entries));
  EXPECT_EQ(as_json(from_json), as_json(store));
  EXPECT_EQ(*import_file(from_json, places.file("all.json")), Added{});

  DaybookStore from_csv = opened(places.fresh("from_csv"));
  EXPECT_EQ(*import_file(from_csv, places.file("all.csv")), (Added{entries.size(), 0}));
  EXPECT_EQ(all_of(from_csv), in_order(entries));
  EXPECT_EQ(*export_csv(from_csv), *export_csv(store));
  EXPECT_TRUE(from_csv.attachments()->empty());
  EXPECT_EQ(from_csv.missing_attachments()->size(), store.missing_attachments()->size() + 1);

  const auto failed = export_json(store, [](std::string_view) { return Error{.problem = "the pipe is closed"}; });
  EXPECT_EQ(failed->problem, "the pipe is closed");
}

TEST_P(Store, AnImportWithOneBadLineNamesItAndTakesNothing) {
  DaybookStore store = opened(places.fresh("notes"));
  ASSERT_TRUE(store.add({remark(1)}));
  std::vector<Entry> entries;
  for (std::uint64_t i = 100; i < 5100; ++i) {
    entries.push_back(daybook::entry(i, 1, daybook::Lost{3, daybook::LossCause::dried}, id(9)));
  }
  DaybookStore full = opened(places.fresh("full"));
  ASSERT_TRUE(full.add(entries));
  std::string json;
  ASSERT_EQ(export_json(full,
                        [&](std::string_view part) {
                          json += part;
                          return std::optional<Error>();
                        }),
            std::nullopt);
  std::string csv = *export_csv(full);
  // The 4,321st entry: behind two lines in the one, behind one in the other.
  const auto spoil = [](std::string& text, int line, std::string_view from, std::string_view to) {
    std::size_t at = 0;
    for (int i = 1; i < line; ++i) at = text.find('\n', at) + 1;
    text.replace(text.find(from, at), from.size(), to);
  };
  spoil(json, 4323, "\"number\":3", "\"number\":0");
  spoil(csv, 4322, ",3,", ",0,");
  ASSERT_EQ(write_file(places.file("bad.json"), json), std::nullopt);
  ASSERT_EQ(write_file(places.file("bad.csv"), csv), std::nullopt);
  EXPECT_EQ(message_of(import_file(store, places.file("bad.json"))),
            places.file("bad.json") + ":4323: body.number: found 0; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(message_of(import_file(store, places.file("bad.csv"))),
            places.file("bad.csv") + ":4322: number: found 0; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(message_of(import_file(store, places.file("none.csv"))),
            places.file("none.csv") + ": there is no such file");
  EXPECT_EQ(all_of(store), std::vector{remark(1)});
}

}  // namespace
}  // namespace strikebed::host
