// Entries as JSON: the same bytes for the same entry, read back exactly, and refused with the field, what was found and
// what is allowed.
#include "daybook/entry_json.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/daybook/making.hpp"
#include "tests/daybook/one_of_each.hpp"

namespace strikebed::daybook {
namespace {

const std::string kLoss =
    R"({"v":1,"id":"000102030405060708090a0b0c0d0e0f","happened":"2027-04-18T09:30:00.000+02:00",)"
    R"("written":"2027-04-18T09:31:05.250+02:00","who":"Ann","device":"phone",)"
    R"("batch":"ffeeddccbbaa99887766554433221100","typed":"lost K427T 2 dried","kind":"lost",)"
    R"("body":{"number":2,"cause":"dried"}})";

std::string with(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return text.replace(at, from.size(), to);
}

std::string refusal(const std::string& json) {
  const auto read = read_entry(json);
  if (read) return "read";
  std::string all;
  for (const std::string& message : read.error().messages()) all += (all.empty() ? "" : " | ") + message;
  return all;
}

TEST(EntryJson, IsReadIntoItsParts) {
  const auto read = read_entry(kLoss);
  ASSERT_TRUE(read) << read.error().message();
  EXPECT_EQ(read->id, (EntryId{0x0001020304050607, 0x08090a0b0c0d0e0f}));
  EXPECT_EQ(read->batch, (EntryId{0xffeeddccbbaa9988, 0x7766554433221100}));
  EXPECT_EQ(read->written.ms - read->happened.ms, 65'250);
  EXPECT_EQ(read->happened.offset_min, 120);
  EXPECT_EQ(read->typed, "lost K427T 2 dried");
  EXPECT_EQ(read->body, Body(Lost{2, LossCause::dried}));
  EXPECT_EQ(entry_json(*read), kLoss);
}

TEST(EntryJson, OfEveryKindGoesRoundExactly) {
  for (const Entry& one : one_of_each()) {
    const std::string json = entry_json(one);
    const auto read = read_entry(json);
    ASSERT_TRUE(read) << json << "\n" << read.error().message();
    EXPECT_EQ(*read, one) << json;
    EXPECT_EQ(entry_json(*read), json);
    EXPECT_FALSE(error_of(one)) << json;
    EXPECT_TRUE(nlohmann::json::accept(json)) << json;
    const auto body = read_body(kind_of(one.body), body_json(one.body));
    ASSERT_TRUE(body) << json;
    EXPECT_EQ(*body, one.body);
  }
}

TEST(EntryJson, IsTheSameInWhateverOrderAndLayoutItCame) {
  const std::string turned =
      R"({ "body" : { "cause": "dried",  "number": 2.0 }, "kind":"lost", "typed":"lost K427T 2 dried",)"
      "\n"
      R"("batch":"ffeeddccbbaa99887766554433221100", "device":"phone", "who":"\u0041nn",)"
      R"("written":"2027-04-18T09:31:05.250+02:00", "happened":"2027-04-18T09:30:00.000+02:00",)"
      R"("id":"000102030405060708090a0b0c0d0e0f", "v":1})";
  EXPECT_EQ(entry_json(*read_entry(turned)), kLoss);
}

TEST(EntryJson, NumbersAreAsShortAsECMAScriptWritesThem) {
  const std::pair<double, std::string> cases[] = {{0, "0"},
                                                  {0.1, "0.1"},
                                                  {5, "5"},
                                                  {120.5, "120.5"},
                                                  {1e-5, "0.00001"},
                                                  {1.5e-6, "0.0000015"},
                                                  {1e-7, "1e-7"},
                                                  {1.25e-8, "1.25e-8"},
                                                  {1e9, "1000000000"},
                                                  {0.1 + 0.2, "0.30000000000000004"},
                                                  {1.0 / 3, "0.3333333333333333"},
                                                  {-0.0, "0"},
                                                  {123456.789, "123456.789"}};
  for (const auto& [number, text] : cases) {
    StockReceived bottle{
        .what = Stuff::feed, .name = "a", .volume_ml = number, .mass_g = {}, .strength = "", .use_by = {}};
    const std::string json = body_json(bottle);
    EXPECT_EQ(json, R"({"what":"feed","name":"a","volume_ml":)" + text + "}");
    EXPECT_EQ(*read_body("stock_received", json), Body(bottle)) << json;
  }
}

TEST(EntryJson, TextsKeepEveryLetter) {
  Entry one = entry(1, 0, Remark{"line\nend\ttab \"quoted\" \\ \x01 \x7f \xc3\xa4 \xe2\x80\xa8 \xf0\x9f\x8c\xb2", {}});
  const std::string json = entry_json(one);
  EXPECT_EQ(json.find('\n'), std::string::npos);
  EXPECT_EQ(*read_entry(json), one);
}

TEST(EntryJson, RefusesWithFieldFoundAndAllowed) {
  EXPECT_EQ(refusal("{"), "the entry is not JSON; allowed: one object in one line");
  EXPECT_EQ(refusal("[]"), "the entry is not a JSON object; allowed: one object in one line");
  EXPECT_EQ(refusal(with(kLoss, R"("v":1)", R"("v":0)")),
            "v: found 0; allowed: the version of the format, a whole number from 1");
  EXPECT_EQ(refusal(with(kLoss, R"("cause":"dried")", R"("cause":"frozen")")),
            "body.cause: found \"frozen\"; allowed: never_came_up, too_late, passed_over, dried, rotted, burnt, eaten, "
            "handling, winter, unknown");
  EXPECT_EQ(refusal(with(kLoss, R"("number":2)", R"("number":0)")),
            "body.number: found 0; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(refusal(with(kLoss, R"("number":2)", R"("number":2.5)")),
            "body.number: found 2.5; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(refusal(with(kLoss, R"("number":2,)", "")),
            "body.number: is missing; allowed: a whole number from 1 to 1000000");
  EXPECT_EQ(refusal(with(kLoss, R"("number":2)", R"("numbr":2)")),
            "body.number: is missing; allowed: a whole number from 1 to 1000000 | "
            "body.numbr: there is no such field (did you mean \"number\"?); allowed: number, cause");
  EXPECT_EQ(refusal(with(kLoss, R"("batch":"ffeeddccbbaa99887766554433221100",)", "")),
            "batch: is missing; allowed: the id of the entry that started the batch");
  EXPECT_EQ(refusal(with(kLoss, "ffeeddccbbaa", "FFEEDDCCBBAA")),
            "batch: found \"FFEEDDCCBBAA99887766554433221100\"; allowed: an id: 32 digits of base 16, small letters");
  EXPECT_EQ(refusal(with(kLoss, "09:30:00.000+02:00", "09:30")),
            "happened: found \"2027-04-18T09:30\"; allowed: a moment such as \"2027-04-18T09:30:00.000+02:00\"");
  EXPECT_EQ(refusal(with(kLoss, R"("device":"phone",)", "")),
            "device: is missing; allowed: a text, in bytes from 1 to 100");
  EXPECT_EQ(refusal(with(kLoss, R"("kind":"lost")", R"("kind":"losst")")).substr(0, 46),
            "kind: found \"losst\" (did you mean \"lost\"?); al");
  EXPECT_EQ(refusal(with(kLoss, R"("body":{"number":2,"cause":"dried"})", R"("body":7)")),
            "body: found 7; allowed: an object");
}

TEST(EntryJson, SaysAllThatIsWrongAtOnce) {
  std::string json = with(kLoss, "phone", "");
  json = with(json, R"("number":2)", R"("number":-2)");
  EXPECT_EQ(refusal(json),
            "device: found \"\"; allowed: a text, in bytes from 1 to 100 | "
            "body.number: found -2; allowed: a whole number from 1 to 1000000");
}

TEST(EntryJson, RefusesWhatCannotBeTrueTogether) {
  const auto refused = [](Body body) { return read_body(kind_of(body), body_json(body)).error().message(); };
  Counted counted;
  EXPECT_EQ(
      refused(counted),
      "alive: is missing; allowed: at least one of emerged, green, turning, red, faded, alive, rooted and undecided");
  counted.rooted = 30;
  counted.undecided = 20;
  counted.of = 48;
  EXPECT_EQ(refused(counted), "rooted: found 50; allowed: at most 48, which is of");
  EXPECT_EQ(refused(LotTested{id(1), 51, 50, {}, {}}), "good: found 51; allowed: at most 50, which is of");
  BatchStarted start = seeds(10, 1, id(1));
  start.from = {{id(2), 3}};
  EXPECT_EQ(refused(start).substr(0, 44), "from: found batches and a lot or a number; a");
  start = cuttings(1, {{id(2), 3}, {id(2), 4}});
  EXPECT_EQ(refused(start),
            "from: found the batch " + to_text(id(2)) + " twice; allowed: each batch once, with the sum");
  start.from.pop_back();
  start.code = "K427X";
  EXPECT_EQ(refused(start),
            "code: found \"K427X\", whose check character does not fit; allowed: the code as it is on the label");
  start.code = " " + to_text(BatchCode{7, 1});
  EXPECT_EQ(refused(start), "code: found \"" + start.code + "\"; allowed: \"" + to_text(BatchCode{7, 1}) + "\"");
  Struck one = group(id(1), 4);
  one.offered = 3;
  EXPECT_EQ(refused(one), "struck: found 4; allowed: at most 3, which is offered");
  one.offered = {};
  one.start = minute(5);
  one.end = minute(4);
  EXPECT_EQ(refused(one).substr(0, 10), "end: found");
  EXPECT_EQ(refused(PhotoAttached{std::string(64, 'G'), "image/jpeg", 10, {}}).substr(0, 15), "sha256: found \"");
  EXPECT_EQ(refused(Measured{}), "air_temperature_c: is missing; allowed: something that was measured");
}

TEST(EntryJson, AnEntryMadeInMemoryIsHeldAgainstTheSameRules) {
  EXPECT_FALSE(error_of(entry(1, 0, Lost{1, LossCause::dried}, id(9))));
  EXPECT_EQ(error_of(entry(1, 0, Lost{0, LossCause::dried}, id(9)))->field, "body.number");
  EXPECT_EQ(error_of(entry(1, 0, Lost{1, LossCause::dried}))->field, "batch");
  EXPECT_TRUE(error_of(entry(1, 0, seeds(5, 1), id(9))));  // a start is no entry about another batch
  EXPECT_TRUE(error_of(entry(1, 0, Remark{"\xff", {}})));  // no UTF-8
}

TEST(EntryJson, AnEntryOfALaterVersionIsKeptWhole) {
  const std::string later =
      R"({"v":2,"id":"000102030405060708090a0b0c0d0e0f","happened":"2031-04-18T09:30:00.000+02:00","whom":[1e2,"a  b\" "],)"
      R"("size":12345678901234567890123,"body":{"x":0.10}})";
  const auto read = read_entry(later);
  ASSERT_TRUE(read);
  EXPECT_EQ(read->body, Body(Unread{later}));
  EXPECT_EQ(read->id, (EntryId{0x0001020304050607, 0x08090a0b0c0d0e0f}));
  EXPECT_EQ(local_day(read->happened), make_date(2031, 4, 18));
  EXPECT_EQ(entry_json(*read), later);
  EXPECT_EQ(entry_json(*read_entry("  " + with(later, R"("v":2,)", "\"v\":\t2,\n ") + "\n")), later);
  EXPECT_EQ(refusal(with(later, R"("id":"0)", R"("id":"x)")).substr(0, 9), "id: found");
}

}  // namespace
}  // namespace strikebed::daybook
