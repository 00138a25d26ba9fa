// Two copies that exchange end with one set, whatever each had; and what they say to each other on the way is written
// down in vectors that an implementation of its own made (exchange_vectors.py).
#include "daybook/exchange.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "daybook/entry_json.hpp"
#include "tests/daybook/making.hpp"
#include "tests/daybook/random_daybook.hpp"
#include "tests/file_text.hpp"

namespace strikebed::daybook {
namespace {

/// A copy of a daybook, of remarks only.
class Copy {
 public:
  void add(const Entry& one) { entries_.insert_or_assign(one.id, one); }
  void add_remark(std::uint64_t number) { add(entry(number, 0, Remark{"number " + std::to_string(number), {}})); }
  [[nodiscard]] std::vector<EntryId> ids() const {
    std::vector<EntryId> all;
    for (const auto& [id, one] : entries_) all.push_back(id);
    return all;
  }
  [[nodiscard]] Message reply(const Message& message) {
    for (const Entry& one : message.entries) add(one);
    return answer(ids(), message, [&](const EntryId& id) {
      const auto found = entries_.find(id);
      return found == entries_.end() ? std::nullopt : std::optional(found->second);
    });
  }
  [[nodiscard]] const std::map<EntryId, Entry>& entries() const { return entries_; }

 private:
  std::map<EntryId, Entry> entries_;
};

struct Talk {
  int messages = 0;
  std::size_t entries = 0;
  std::size_t entries_at_once = 0;
  std::size_t bytes = 0;
};

/// Until nothing is left to say, through text.
Talk exchange(Copy& a, Copy& b) {
  Talk talk;
  Message message = opening(a.ids());
  for (bool to_b = true; !message.is_empty() && talk.messages < 1000; to_b = !to_b) {
    const std::string text = message_text(message);
    ++talk.messages;
    talk.entries += message.entries.size();
    talk.entries_at_once = std::max(talk.entries_at_once, message.entries.size());
    talk.bytes += text.size();
    const auto read = read_message(text);
    EXPECT_TRUE(read) << read.error().message();
    EXPECT_EQ(*read, message);
    message = (to_b ? b : a).reply(*read);
  }
  return talk;
}

TEST(Sha256, OfTheExamplesOfTheStandard) {
  EXPECT_EQ(to_text(sha256("")), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  EXPECT_EQ(to_text(sha256("abc")), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(to_text(sha256("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq")),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(to_text(sha256(std::string(1'000'000, 'a'))),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST(Exchange, CopiesThatHoldTheSameSayItOnce) {
  for (const std::uint64_t number : {0U, 1U, 500U}) {
    Copy a, b;
    for (std::uint64_t i = 0; i < number; ++i) {
      a.add_remark(i);
      b.add_remark(i);
    }
    EXPECT_EQ(exchange(a, b).messages, 1);
  }
}

TEST(Exchange, TwoCopiesEndWithTheUnion) {
  for (const std::size_t number : {1U, 33U, 300U, 3000U}) {
    for (const std::size_t apart : {1U, 2U, 10U, 1000U}) {
      RandomDaybook random(number * 7 + apart);
      Copy a, b;
      std::set<EntryId> all;
      for (std::uint64_t i = 0; i < number; ++i) {
        const bool only_one = random.below(apart + 1) == 0;
        const bool to_a = random.below(2) == 0;
        if (!only_one || to_a) a.add_remark(i);
        if (!only_one || !to_a) b.add_remark(i);
        all.insert(id(i));
      }
      const std::size_t missing = 2 * all.size() - a.entries().size() - b.entries().size();
      const Talk talk = exchange(a, b);
      EXPECT_EQ(a.entries(), b.entries()) << number << " " << apart;
      EXPECT_EQ(a.entries().size(), all.size());
      EXPECT_EQ(talk.entries, missing);  // none is sent twice
      EXPECT_LE(talk.messages, 30);
    }
  }
}

TEST(Exchange, AnEmptyCopyGetsAllInMessagesOfABoundedSize) {
  for (const bool empty_begins : {true, false}) {
    Copy full, empty;
    for (std::uint64_t i = 0; i < 20'000; ++i) full.add_remark(i);
    const Talk talk = empty_begins ? exchange(empty, full) : exchange(full, empty);
    EXPECT_EQ(empty.entries().size(), 20'000U);
    EXPECT_EQ(talk.entries, 20'000U);
    EXPECT_LE(talk.entries_at_once, kGivenAtMost);
    EXPECT_LE(talk.messages, 60);
  }
}

TEST(Exchange, FewMissingOfManyCostLittle) {
  Copy a, b;
  for (std::uint64_t i = 0; i < 20'000; ++i) {
    if (i != 77) a.add_remark(i);
    if (i != 1234 && i != 19'000) b.add_remark(i);
  }
  const Talk talk = exchange(a, b);
  EXPECT_EQ(a.entries(), b.entries());
  EXPECT_LE(talk.messages, 7);
  EXPECT_LE(talk.bytes, 30'000U);
}

TEST(Exchange, EntriesWrittenMeanwhileGetAcrossNowOrNextTime) {
  Copy a, b;
  for (std::uint64_t i = 0; i < 2000; ++i) (i % 3 ? a : b).add_remark(i);
  Message message = opening(a.ids());
  for (std::uint64_t i = 0; i < 20 && !message.is_empty(); ++i) {
    a.add_remark(5000 + i);
    b.add_remark(6000 + i);
    message = (i % 2 ? a : b).reply(message);
  }
  exchange(a, b);
  EXPECT_EQ(a.entries(), b.entries());
}

TEST(Exchange, RefusesWhatIsNoMessage) {
  const auto refusal = [](const std::string& text) {
    const auto read = read_message(text);
    return read ? std::string("read") : read.error().message();
  };
  const std::string low = to_text(EntryId{0, 1});
  const std::string high = to_text(EntryId{5, 1});
  const auto range = [](const std::string& from, const std::string& to, const std::string& ids) {
    return R"({"from":")" + from + R"(","to":")" + to + R"(","ids":[)" + ids + "]}";
  };
  const auto with_ranges = [](const std::string& ranges) {
    return R"({"v":1,"ranges":[)" + ranges + R"(],"wanted":[],"entries":0})";
  };
  EXPECT_EQ(refusal(with_ranges(range(low, high, '"' + low + "\",\"" + high + '"'))), "read");
  EXPECT_EQ(refusal("{\"v\":2}"), "v: found 2; allowed: version 1 of the exchange");
  EXPECT_EQ(refusal("").substr(0, 21), "the entry is not JSON");
  EXPECT_EQ(refusal(with_ranges(range(high, low, ""))).substr(0, 21), "ranges: found a range");
  EXPECT_EQ(refusal(with_ranges(range(low, high, "") + "," + range(high, high, ""))).substr(0, 21),
            "ranges: found a range");
  EXPECT_EQ(refusal(with_ranges(range(low, low, '"' + high + '"'))).substr(0, 20), "ids: found ids out o");
  EXPECT_EQ(refusal(with_ranges(range(low, high, '"' + high + "\",\"" + low + '"'))).substr(0, 20),
            "ids: found ids out o");
  EXPECT_EQ(refusal(with_ranges(R"({"from":")" + low + R"(","to":")" + low + R"(","digest":"00"})")),
            "digest: found \"00\"; allowed: 64 digits of base 16, small letters");
  EXPECT_EQ(refusal(R"({"v":1,"ranges":7})").substr(0, 15), "ranges: found 7");
  EXPECT_EQ(refusal(R"({"v":1,"wants":[]})").substr(0, 12), "wants: found");
  EXPECT_EQ(refusal(R"({"v":1,"entries":1})"), "entries: 0 entries follow; allowed: 1, as the first line says");
  EXPECT_EQ(refusal("{\"v\":1,\"entries\":1}\n{}\n").substr(0, 24), "2: v: is missing; allowe");
}

/// The entry that stands under an id in the vectors.
Entry seen(const EntryId& id) {
  const Moment moment = parse_iso_moment("2027-04-18T09:30:00.000+02:00").value();
  return {id, moment, moment, "", "phone", {}, "", Remark{"seen", {}}};
}

TEST(Exchange, SaysWhatTheVectorsSay) {
  const auto vectors =
      nlohmann::json::parse(file_text(SOURCE_DIR "/tests/daybook/vectors/exchange.json"), nullptr, false);
  ASSERT_FALSE(vectors.is_discarded());
  int checked = 0;
  for (const auto& vector : vectors) {
    Copy copy;
    for (const auto& held : vector["ids"]) copy.add(seen(parse_entry_id(held.get<std::string>()).value()));
    const std::string received = vector["received"].get<std::string>();
    const Message said = received.empty() ? opening(copy.ids()) : copy.reply(read_message(received).value());
    EXPECT_EQ(message_text(said), vector["answered"].get<std::string>()) << vector["name"];
    ++checked;
  }
  EXPECT_GE(checked, 10);
}

}  // namespace
}  // namespace strikebed::daybook
