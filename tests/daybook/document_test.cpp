// A daybook as one JSON document: exact both ways, with the line of what is wrong.
// Ref     base 64: the examples of RFC 4648, section 10.
#include "daybook/document.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "daybook/base64.hpp"
#include "daybook/entry_json.hpp"
#include "tests/daybook/making.hpp"
#include "tests/daybook/one_of_each.hpp"

namespace strikebed::daybook {
namespace {

Attachment attached(std::string bytes) { return {sha256(bytes), std::move(bytes)}; }

std::string document(const std::vector<Entry>& entries, const std::vector<Attachment>& attachments) {
  DocumentText text;
  std::string all;
  for (const Entry& one : entries) all += text.next(one);
  for (const Attachment& one : attachments) all += text.next(one);
  return all + text.end();
}

TEST(Base64, IsThatOfTheStandard) {
  const std::pair<std::string, std::string> examples[] = {{"", ""},
                                                          {"f", "Zg=="},
                                                          {"fo", "Zm8="},
                                                          {"foo", "Zm9v"},
                                                          {"foob", "Zm9vYg=="},
                                                          {"fooba", "Zm9vYmE="},
                                                          {"foobar", "Zm9vYmFy"}};
  for (const auto& [bytes, text] : examples) {
    EXPECT_EQ(to_base64(bytes), text);
    EXPECT_EQ(from_base64(text), bytes);
  }
  for (const std::string_view wrong : {"Z", "Zg", "Zg=", "Zg===", "====", "Zh==", "Zm9=", "Zg==Zg==", "Zm 8", "Zm-_"}) {
    EXPECT_FALSE(from_base64(wrong)) << wrong;
  }
  std::string all;
  for (int i = 0; i < 256; ++i) all += static_cast<char>(i);
  EXPECT_EQ(from_base64(to_base64(all)), all);
}

TEST(Document, GoesRoundExactlyAndIsOneJsonDocument) {
  std::vector<Entry> entries = one_of_each();
  entries.push_back(entry(1, 0, Remark{"a \"}]\\\" in it\n", {}}));
  entries.push_back(*read_entry(R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","of":[{"a":"]}"}]})"));
  const std::vector<Attachment> attachments{attached(std::string("\0\xff picture", 10)), attached("x")};
  for (const auto& [some, attached] :
       {std::pair(entries, attachments), std::pair(entries, std::vector<Attachment>{}),
        std::pair(std::vector<Entry>{}, attachments), std::pair(std::vector<Entry>{}, std::vector<Attachment>{})}) {
    const std::string text = document(some, attached);
    EXPECT_TRUE(may_be_document(text));
    EXPECT_FALSE(nlohmann::json::parse(text, nullptr, false).is_discarded());
    const auto read = read_document(text);
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->entries, some);
    EXPECT_EQ(read->attachments, attached);
    EXPECT_EQ(document(read->entries, read->attachments), text);
  }
}

TEST(Document, IsReadInAnyLayout) {
  const std::vector<Entry> entries{entry(1, 0, Remark{"x", {}}), entry(2, 0, Lost{2, LossCause::dried}, id(9))};
  const auto json = nlohmann::ordered_json::parse(document(entries, {attached("x")}));
  for (const int indent : {-1, 0, 2}) {
    const auto read = read_document("\xef\xbb\xbf " + json.dump(indent) + "\r\n");
    ASSERT_TRUE(read) << read.error().message();
    EXPECT_EQ(read->entries, entries);
    EXPECT_EQ(read->attachments, std::vector{attached("x")});
  }
}

TEST(Document, SaysTheLineOfEachThatIsWrong) {
  std::string text = document({entry(1, 0, Remark{"x", {}}), entry(2, 0, Lost{2, LossCause::dried}, id(9)),
                               entry(3, 0, Lost{4, LossCause::eaten}, id(9))},
                              {attached("x"), attached("y")});
  text.replace(text.find("dried"), 5, "frozen");
  text.replace(text.find(":4,"), 3, ":-4,");
  text.replace(text.find("\"eA==\""), 6, "\"eQ==\"");
  const auto read = read_document(text);
  ASSERT_FALSE(read);
  const auto messages = read.error().messages();
  ASSERT_EQ(messages.size(), 3U);
  EXPECT_EQ(messages[0].substr(0, 33), "4: body.cause: found \"frozen\"; al");
  EXPECT_EQ(messages[1], "5: body.number: found -4; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(messages[2],
            "8: the attachment " + to_text(sha256("x")) + " is not what its digest says; allowed: its own SHA-256");
}

TEST(Document, RefusesWhatIsNoDocument) {
  const auto message = [](std::string_view text) {
    const auto read = read_document(text);
    return read ? std::string("none") : read.error().message();
  };
  EXPECT_EQ(message(R"({"entries":[]})"), "1: daybook: is missing; allowed: the version of the document");
  EXPECT_EQ(message("{\n\"daybook\":2}"), "2: daybook: found 2; allowed: version 1 of the document");
  EXPECT_EQ(message("{\"daybook\":1,\n\n\"notes\":{}}"),
            "3: notes: there is no such key; allowed: daybook, entries, attachments");
  EXPECT_EQ(message("{\"daybook\":1,\"attachments\":[\n{\"sha256\":\"\",\"bytes\":\"\"}]}"),
            "2: this attachment cannot be read; allowed: sha256, 64 digits of base 16, and bytes, in base 64");
  // Cut off anywhere, or with more behind it.
  const std::string whole = document({entry(1, 0, Remark{"x", {}})}, {attached("x")});
  for (std::size_t size = 0; size + 1 < whole.size(); ++size) {
    EXPECT_FALSE(read_document(whole.substr(0, size))) << size;
  }
  EXPECT_FALSE(read_document(whole + "x"));
  EXPECT_FALSE(read_document(whole + whole));
}

TEST(Document, ThousandsOfWrongLinesAreNotAllSaid) {
  std::string text = "{\"daybook\":1,\"entries\":[";
  for (int i = 0; i < 5000; ++i) text += "{},\n";
  const auto read = read_document(text + "{}]}");
  ASSERT_FALSE(read);
  EXPECT_EQ(read.error().messages().size(), 100U);
}

}  // namespace
}  // namespace strikebed::daybook
