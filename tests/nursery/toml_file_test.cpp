// Covers  the strict TOML layer: typed getters, their messages, unknown keys, hostile files.
// Ref     TOML 1.0 for what is a date, a table and a number; the messages are ours.
// Tol     none: texts, counts and dates.
#include "nursery/toml_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <ostream>

namespace strikebed::nursery {
namespace {

TomlFile parsed(std::string_view text) {
  Result<TomlFile> file = TomlFile::parse(text, "a.toml");
  if (!file) ADD_FAILURE() << file.error().message();
  return *file;
}

std::string refused(std::string_view text) {
  const Result<TomlFile> file = TomlFile::parse(text, "a.toml");
  return file ? "" : file.error().message();
}

std::string message_of(const TomlFile& file) {
  const auto error = file.finish();
  return error ? error->message() : "";
}

const NumberRange kAnyShare{.low = 0, .high = 1, .of_what = "a share"};

TEST(TomlFile, ReadsEachKindAndFindsNothingWrong) {
  const TomlFile file = parsed(R"(
name = "pine"
share = 0.5
whole = 3
yes = true
date = 2027-10-01
iso = "2027-10-02"
yearly = "10-01"
list = [1, 2.5]
words = ["a", "b"]
days = [2027-05-01, "05-02"]
[inner]
x = 1
[[row]]
y = 1
[[row]]
y = 2
)");
  const TomlTable root = file.root();
  EXPECT_EQ(root.text("name"), "pine");
  EXPECT_EQ(root.number("share", kAnyShare), 0.5);
  EXPECT_EQ(root.whole("whole", 1, 5), 3);
  EXPECT_EQ(root.yes_no("yes"), true);
  EXPECT_EQ(root.day("date")->on_or_after(make_date(2030, 1, 1)), make_date(2027, 10, 1));
  EXPECT_EQ(root.day("iso")->year, 2027);
  EXPECT_EQ(root.day("yearly")->year, std::nullopt);
  EXPECT_EQ(root.numbers("list", 2, {.low = 0, .high = 9}), (std::vector<double>{1, 2.5}));
  EXPECT_EQ(root.texts("words"), (std::vector<std::string>{"a", "b"}));
  EXPECT_EQ(root.days("days")->size(), 2U);
  EXPECT_EQ(root.table("inner")->whole("x", 0, 9), 1);
  const auto rows = root.tables("row");
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_EQ(rows[1].whole("y", 0, 9), 2);
  EXPECT_EQ(rows[0].whole("y", 0, 9), 1);
  EXPECT_EQ(message_of(file), "");
}

TEST(TomlFile, WhatIsLeftOutIsNothingAndNoError) {
  const TomlFile file = parsed("a = 1");
  const TomlTable root = file.root();
  EXPECT_EQ(root.whole("a", 0, 9), 1);
  EXPECT_EQ(root.text("b"), std::nullopt);
  EXPECT_FALSE(root.table("c"));
  EXPECT_TRUE(root.tables("d").empty());
  EXPECT_EQ(message_of(file), "");
}

TEST(TomlFile, AYearlyDayIsTheNextOne) {
  const WrittenDay october{std::nullopt, 10, 1};
  EXPECT_EQ(october.on_or_after(make_date(2027, 10, 1)), make_date(2027, 10, 1));
  EXPECT_EQ(october.on_or_after(make_date(2027, 10, 2)), make_date(2028, 10, 1));
  const WrittenDay leap{std::nullopt, 2, 29};
  EXPECT_EQ(leap.in_year(2027), make_date(2027, 2, 28));
}

/// A getter that fails, and the whole message. The name is the test's.
struct Wrong {
  const char* name;
  const char* text;
  void (*read)(const TomlTable&);
  const char* message;
};
void PrintTo(const Wrong& wrong, std::ostream* out) { *out << wrong.name; }
std::string name_of(const ::testing::TestParamInfo<Wrong>& test) { return test.param.name; }
class TomlFileWrong : public ::testing::TestWithParam<Wrong> {};

TEST_P(TomlFileWrong, IsNamedWithLineKeyFoundAndAllowed) {
  const TomlFile file = parsed(GetParam().text);
  GetParam().read(file.root());
  EXPECT_EQ(message_of(file), GetParam().message);
}

constexpr std::array<std::string_view, 2> kColours{"green", "turning"};

const std::vector<Wrong> kWrong{
    Wrong{"text_for_a_number", "\n[p]\nx = \"5\"",
          [](const TomlTable& t) { (void)t.table("p")->number("x", kAnyShare); },
          "a.toml:3: p.x: found \"5\"; allowed: a number from 0 to 1 (a share)"},
    Wrong{"not_a_number", "x = nan", [](const TomlTable& t) { (void)t.number("x", kAnyShare); },
          "a.toml:1: x: found nan; allowed: a number from 0 to 1 (a share)"},
    Wrong{"zero_excluded", "x = 0",
          [](const TomlTable& t) { (void)t.number("x", {.low = 0, .high = 1, .low_excluded = true}); },
          "a.toml:1: x: found 0; allowed: a number above 0 and at most 1"},
    Wrong{"one_excluded", "x = 1",
          [](const TomlTable& t) { (void)t.number("x", {.low = 0, .high = 1, .high_excluded = true}); },
          "a.toml:1: x: found 1; allowed: a number from 0 to below 1"},
    Wrong{"part_of_a_whole", "x = 1.5", [](const TomlTable& t) { (void)t.whole("x", 1, 9); },
          "a.toml:1: x: found 1.5; allowed: a whole number from 1 to 9"},
    Wrong{"far_too_large", "x = 99999999999999", [](const TomlTable& t) { (void)t.whole("x", 1, 9); },
          "a.toml:1: x: found 99999999999999; allowed: a whole number from 1 to 9"},
    Wrong{"yes_no", "x = 1", [](const TomlTable& t) { (void)t.yes_no("x"); },
          "a.toml:1: x: found 1; allowed: true or false"},
    Wrong{"empty_text", "x = \"\"", [](const TomlTable& t) { (void)t.text("x"); },
          "a.toml:1: x: found \"\"; allowed: a text"},
    Wrong{"mistyped_word", "x = \"gren\"", [](const TomlTable& t) { (void)t.one_of("x", kColours); },
          "a.toml:1: x: found \"gren\" (did you mean \"green\"?); allowed: \"green\" or \"turning\""},
    Wrong{"no_such_month_day", "x = \"10-32\"", [](const TomlTable& t) { (void)t.day("x"); },
          "a.toml:1: x: found \"10-32\"; allowed: a date such as 2027-10-01, or a month and day such as \"10-01\""},
    Wrong{"date_with_a_time", "x = 2027-10-01T10:00:00", [](const TomlTable& t) { (void)t.day("x"); },
          "a.toml:1: x: found a date with a time; allowed: a date such as 2027-10-01, or a month and day such as "
          "\"10-01\""},
    Wrong{"date_for_a_month_day", "x = 2027-10-01", [](const TomlTable& t) { (void)t.month_day("x"); },
          "a.toml:1: x: found the date 2027-10-01; allowed: a month and day such as \"10-01\""},
    Wrong{"number_among_days", "x = [2027-10-01, 5]", [](const TomlTable& t) { (void)t.days("x"); },
          "a.toml:1: x: found 5 in the list; allowed: a list of dates, each a date such as 2027-10-01, or a month "
          "and day such as \"10-01\""},
    Wrong{"list_too_short", "x = [1, 2]", [](const TomlTable& t) { (void)t.numbers("x", 3, kAnyShare); },
          "a.toml:1: x: found a list of 2; allowed: a list of 3 numbers, each a number from 0 to 1 (a share)"},
    Wrong{"number_too_large_in_a_list", "x = [1, 2]", [](const TomlTable& t) { (void)t.numbers("x", 2, kAnyShare); },
          "a.toml:1: x: found 2 as number 2; allowed: a list of 2 numbers, each a number from 0 to 1 (a share)"},
    Wrong{"empty_list", "x = []", [](const TomlTable& t) { (void)t.texts("x"); },
          "a.toml:1: x: found a list of 0; allowed: a list of one or more texts"},
    Wrong{"text_without_brackets", "x = \"Saturday\"", [](const TomlTable& t) { (void)t.texts("x"); },
          "a.toml:1: x: found \"Saturday\"; allowed: a list of one or more texts: [\"Saturday\"]"},
    Wrong{
        "day_without_brackets", "x = 2027-10-01", [](const TomlTable& t) { (void)t.days("x"); },
        "a.toml:1: x: found the date 2027-10-01 without the brackets of a list; allowed: a list of dates, each a date "
        "such as 2027-10-01, or a month and day such as \"10-01\""},
    Wrong{"percent_for_a_share", "x = 85", [](const TomlTable& t) { (void)t.number("x", kAnyShare); },
          "a.toml:1: x: found 85 (did you mean 0.85?); allowed: a number from 0 to 1 (a share)"},
    Wrong{"decimal_comma_in_quotes", "x = \"0,5\"", [](const TomlTable& t) { (void)t.number("x", kAnyShare); },
          "a.toml:1: x: found \"0,5\" (did you mean 0.5?); allowed: a number from 0 to 1 (a share)"},
    Wrong{"a_little_too_much", "x = 1.2", [](const TomlTable& t) { (void)t.number("x", kAnyShare); },
          "a.toml:1: x: found 1.2; allowed: a number from 0 to 1 (a share)"},
    Wrong{"number_for_a_table", "x = 5", [](const TomlTable& t) { (void)t.table("x"); },
          "a.toml:1: x: found 5; allowed: a table, [x]"},
    Wrong{"table_for_rows", "[x]", [](const TomlTable& t) { (void)t.tables("x"); },
          "a.toml:1: x: found a table; allowed: one or more tables, each under [[x]]"},
    Wrong{"missing_in_a_table", "a = 1\n[p]\nb = 1",
          [](const TomlTable& t) {
            (void)t.whole("a", 0, 9);
            (void)t.table("p")->whole("b", 0, 9);
            t.table("p")->needs("c", "a text");
          },
          "a.toml:2: p.c: is missing; allowed: a text"}};

INSTANTIATE_TEST_SUITE_P(Each, TomlFileWrong, ::testing::ValuesIn(kWrong), name_of);

std::vector<std::string> messages_of(const TomlFile& file) {
  const auto error = file.finish();
  return error ? error->messages() : std::vector<std::string>{};
}

TEST(TomlFile, AllMistakesAreSaidInTheOrderOfTheirLinesBehindTheFirst) {
  const TomlFile file = parsed("a = 7\nb = 8\nzzz = 1\n[p]\nc = 9\n");
  const TomlTable root = file.root();
  (void)root.table("p")->number("c", kAnyShare);
  (void)root.number("b", kAnyShare);
  (void)root.number("a", kAnyShare);
  (void)root.number("a", kAnyShare);
  root.needs("d", "a text");
  EXPECT_EQ(
      messages_of(file),
      (std::vector<std::string>{"a.toml:3: zzz: unknown key; allowed: \"a\", \"b\", \"d\" or \"p\"",
                                "a.toml:1: a: found 7 (did you mean 0.07?); allowed: a number from 0 to 1 (a share)",
                                "a.toml:2: b: found 8 (did you mean 0.08?); allowed: a number from 0 to 1 (a share)",
                                "a.toml:5: p.c: found 9 (did you mean 0.09?); allowed: a number from 0 to 1 (a share)",
                                "a.toml: d: is missing; allowed: a text"}));
}

TEST(TomlFile, AMistypedKeyIsNotAlsoMissing) {
  const TomlFile file = parsed("cont = 5\n");
  file.root().needs("count", "how many");
  EXPECT_EQ(messages_of(file).size(), 1U);
}

TEST(TomlFile, TwentyMistakesAreSaidAndTheRestCounted) {
  std::string text;
  for (int i = 0; i < 50'000; ++i) text += fmt::format("k{} = 1\n", i);
  const TomlFile file = parsed(text);
  for (int i = 0; i < 500; ++i) (void)file.root().text(fmt::format("k{}", i));
  const std::vector<std::string> messages = messages_of(file);
  ASSERT_EQ(messages.size(), kMostMistakesSaid + 1);
  EXPECT_EQ(messages.back(), "a.toml: and 49980 more mistakes");
}

TEST(TomlFile, KnowsWhichValuesAreSound) {
  const TomlFile file = parsed("a = 7\nab = 0.5\n[p]\nc = 9\n");
  const TomlTable root = file.root();
  (void)root.number("a", kAnyShare);
  (void)root.number("ab", kAnyShare);
  (void)root.table("p")->number("c", kAnyShare);
  EXPECT_FALSE(root.sound({"a"}));
  EXPECT_TRUE(root.sound({"ab"}));
  EXPECT_FALSE(root.sound({"ab", "p"}));
}

// What people write who have not met TOML before, and what is then said to be allowed.
TEST(TomlFile, UsualSlipsAreAnsweredInPlainWords) {
  const auto allowed = [](const std::string& line) {
    const Result<TomlFile> file = TomlFile::parse("a = 1\n" + line + "\nz = 2\n", "a.toml");
    return file ? "no error" : fmt::format("{} {}", file.error().line, file.error().allowed);
  };
  EXPECT_EQ(allowed("latitude = 59,86"), "2 decimals with a point: 59.86");
  EXPECT_EQ(allowed("take = { about = 0,65, low = 0.3 }"), "2 decimals with a point: 0.65");
  EXPECT_EQ(allowed("by = 15.9.2027"), "2 dates as 2027-09-15");
  EXPECT_EQ(allowed("by = 9/15/2027"), "2 dates as 2027-09-15: year, month, day");
  EXPECT_EQ(allowed("by = 2027-9-5"), "2 dates as 2027-09-05");
  EXPECT_EQ(allowed("by = 10-01"), "2 a month and day in quotes: \"10-01\"");
  EXPECT_EQ(allowed("not_on = [2027-05-01, 3.6.2027]"), "2 dates as 2027-06-03");
  EXPECT_EQ(allowed("species = pinus-thunbergii # black"), "2 text in quotes: \"pinus-thunbergii\"");
  EXPECT_EQ(allowed("weekdays = [Saturday, Sunday]"), "2 text in quotes: \"Saturday\"");
  EXPECT_EQ(allowed("by = 31.13.2027"), "2 key = value lines under [table] headings (TOML 1.0)") << "no date at all";
  EXPECT_EQ(allowed("by = [2027.6.3]"), "2 dates as 2027-06-03");
  EXPECT_EQ(allowed("elevation_m = +1,5"), "2 decimals with a point: +1.5");
  EXPECT_EQ(allowed("lit = yes"), "2 text in quotes: \"yes\"");
  EXPECT_EQ(allowed("lit = true true"), "2 key = value lines under [table] headings (TOML 1.0)");
  EXPECT_EQ(allowed("take = { about = half, low = 0.3 }"), "2 text in quotes: \"half\"");
  EXPECT_EQ(allowed("name = 'pine, black' c # by = 1.1.2027"), "2 key = value lines under [table] headings (TOML 1.0)");
  EXPECT_EQ(allowed("name = \"a = b\" c"), "2 key = value lines under [table] headings (TOML 1.0)");
}

TEST(TomlFile, AnUnknownKeyIsNamedBeforeAnythingElseWithTheNearestKnown) {
  const TomlFile file = parsed("cont = 5\n[[want]]\nx = 1\n");
  const TomlTable root = file.root();
  (void)root.needs("count", "how many");
  (void)root.tables("want");
  EXPECT_EQ(message_of(file), "a.toml:1: cont: unknown key (did you mean \"count\"?); allowed: \"count\" or \"want\"");
}

TEST(TomlFile, AnUnknownKeyInARowSaysWhichRow) {
  const TomlFile file = parsed("[[want]]\nx = 1\n[[want]]\nx = 1\nzzz = 2\n");
  for (const TomlTable& row : file.root().tables("want")) (void)row.whole("x", 0, 9);
  EXPECT_EQ(message_of(file), "a.toml:5: want[2].zzz: unknown key; allowed: \"x\"");
}

TEST(TomlFile, WhatIsRepeatedFromTheFileIsShortAndPrintable) {
  const TomlFile file = parsed("x = \"\\u0007" + std::string(200, 'a') + "\"");
  (void)file.root().day("x");
  const std::string message = message_of(file);
  EXPECT_NE(message.find("\"?aaaa"), std::string::npos) << message;
  EXPECT_NE(message.find("aaa...\""), std::string::npos) << message;
  EXPECT_LT(message.size(), 200U);
}

TEST(TomlFile, HostileFilesEndInAMessage) {
  EXPECT_EQ(refused(""), "a.toml: the file is empty; allowed: key = value lines under [table] headings (TOML 1.0)");
  EXPECT_EQ(refused("# only words\n"),
            "a.toml: the file is empty; allowed: key = value lines under [table] headings (TOML 1.0)");
  EXPECT_EQ(refused(std::string("a = 1\n\0", 7)),
            "a.toml:2: a zero byte: this is not a text file; allowed: TOML text in UTF-8");
  EXPECT_EQ(refused(std::string(kLargestTomlFile + 1, 'a')),
            "a.toml: the file is too large; allowed: at most 1 MB of TOML text");
  EXPECT_EQ(refused("species = "),
            "a.toml:1:11: this is not TOML: key-value pair: encountered end-of-file; allowed: key = value lines under "
            "[table] headings (TOML 1.0)");
  std::string deep = "a";
  for (int i = 0; i < 200; ++i) deep += ".a";
  EXPECT_EQ(refused(deep + " = 1"), "a.toml:1: more than 100 dots in one line; allowed: keys nested a few tables deep");
  EXPECT_EQ(refused("a = 1\nb = 2\n[[\nc = 3\n"),
            "a.toml:3:3: this is not TOML: key: expected bare key starting character or string delimiter, saw '\\n'; "
            "allowed: key = value lines under [table] headings (TOML 1.0)")
      << "the library asserts on this one";
  EXPECT_NE(refused("a = " + std::string(5000, '[')), "");
  EXPECT_NE(refused("a = \"\xff\xfe\""), "") << "not UTF-8";
  EXPECT_NE(refused("a = 1\na = 2"), "") << "the same key twice";
}

}  // namespace
}  // namespace strikebed::nursery
