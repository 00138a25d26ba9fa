// Entries read back quickly: always what the reader that takes its time reads.
#include "daybook/kept_json.hpp"

#include <gtest/gtest.h>

#include <string>
#include <string_view>
#include <vector>

#include "daybook/entry_json.hpp"
#include "tests/daybook/one_of_each.hpp"
#include "tests/daybook/random_daybook.hpp"

namespace strikebed::daybook {
namespace {

void expect_alike(const std::string& json) {
  const auto slow = read_entry(json);
  const auto quick = read_kept_entry(json);
  ASSERT_EQ(quick.ok(), slow.ok()) << json;
  if (slow) {
    EXPECT_EQ(*quick, *slow) << json;
    EXPECT_EQ(entry_json(*quick), entry_json(*slow)) << json;
  } else {
    EXPECT_EQ(quick.error().messages(), slow.error().messages()) << json;
  }
}

std::vector<Entry> many() {
  std::vector<Entry> all = one_of_each();
  const std::vector<Entry> more = RandomDaybook(4).entries(200);
  all.insert(all.end(), more.begin(), more.end());
  return all;
}

TEST(KeptJson, ReadsWhatWasWritten) {
  for (const Entry& one : many()) {
    const auto read = read_kept_entry(entry_json(one));
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(*read, one);
  }
}

TEST(KeptJson, ReadsWhatWasNotWrittenSoAsTheOtherReaderDoes) {
  const std::string json = entry_json(entry(1, 0, Measured{"door", 12.5, {}, 80, {}}, id(9)));
  for (const std::string_view number :
       {"1e1",  "-0",    "-0.0",     "0",     "00",   "1.", ".5", "+1", "0x1", "1e999",
        "-60",  "-60.5", "70.0000",  "\"1\"", "null", "1 ", " 1", "-",  "",    "9007199254740993",
        "1.50", "true",  "Infinity", "NaN"}) {
    std::string other = json;
    other.replace(other.find("12.5"), 4, number);
    expect_alike(other);
  }
  expect_alike(json + " ");
  expect_alike(" " + json);
  expect_alike(json + json);
  expect_alike("");
  expect_alike(R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","size":1.50})");
}

TEST(KeptJson, ReadsWhatWasDamagedAsTheOtherReaderDoes) {
  RandomDaybook random(12);
  const std::string_view bytes("\"\\,:{}[]0129-.eaz \0\xc3\xa4\n\x7f", 24);
  for (const Entry& one : many()) {
    const std::string json = entry_json(one);
    for (int i = 0; i < 40; ++i) {
      std::string other = json;
      const std::size_t at = random.below(json.size());
      switch (random.below(3)) {
        case 0:
          other[at] = bytes[random.below(bytes.size())];
          break;
        case 1:
          other.erase(at, 1 + random.below(12));
          break;
        default:
          other.insert(at, json.substr(random.below(json.size()), 1 + random.below(12)));
      }
      expect_alike(other);
    }
  }
}

}  // namespace
}  // namespace strikebed::daybook
