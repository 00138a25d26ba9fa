// Every kind of notice in words.
#include "print/notice_words.hpp"

#include <gtest/gtest.h>

#include <set>
#include <string>

namespace strikebed::print {
namespace {

using climate::Finding;
using climate::Notice;
using climate::NoticeKind;
using climate::Role;

const Date kDay = make_date(2027, 5, 2);

std::string option_of(std::string_view field) { return field == "wind_height_m" ? "--wind-height" : ""; }

std::string words(NoticeKind kind, Finding finding, Role role = Role::date) {
  return notice_words({.kind = kind, .role = role, .finding = std::move(finding)}, option_of);
}

TEST(NoticeWords, SayWhatWasFoundAndDone) {
  const Finding gap{.when = {kDay}, .other = {kDay + Days(2)}, .count = 3};
  EXPECT_EQ(words(NoticeKind::filled, gap),
            "2027-05-02 to 2027-05-04: temperature of 3 days filled by a straight line between its neighbours");
  EXPECT_EQ(words(NoticeKind::long_gap, {.when = {kDay}, .other = {kDay}, .count = 1}),
            "2027-05-02: 1 day without temperature, too long a gap to fill or at the edge of the record");
  EXPECT_EQ(words(NoticeKind::too_few_hours, {.when = {kDay}, .count = 19, .of = 20}),
            "2027-05-02 has 19 of its 24 hours of temperature; 20 are needed, so it counts as missing");
  EXPECT_EQ(words(NoticeKind::impossible,
                  {.name = "rain (in)", .cell = "\"90\"", .low = {0, "inch"}, .high = {2000 / 25.4, "inch"}}),
            "rain (in): \"90\" cannot be (possible: 0 to 78.74 inch); taken as missing");
  EXPECT_EQ(words(NoticeKind::sunny_day, {.when = {kDay}, .low = {77.76, "MJ/m2"}, .high = {50, "MJ/m2"}}),
            "2027-05-02: 77.8 MJ/m2 of solar radiation in a day cannot be (at most 50); taken as missing");
  EXPECT_EQ(words(NoticeKind::swapped, {.when = {kDay}, .low = {54.5, "°F"}, .high = {35.6, "°F"}}),
            "2027-05-02: the minimum, 54.5 °F, was above the maximum, 35.6 °F; swapped");
  EXPECT_EQ(words(NoticeKind::doubled, {.when = {kDay, 60}, .first_line = 27}),
            "2027-05-02 01:00 is there twice with the same values (first in line 27); dropped");
  EXPECT_EQ(words(NoticeKind::out_of_order, {.when = {kDay, 60}, .other = {kDay, 135}}),
            "2027-05-02 01:00 comes after 2027-05-02 02:15; the rows were put in order");
  EXPECT_EQ(words(NoticeKind::strange_unit, {.name = "\"wind (furlong)\"", .cell = "\"furlong\""}, Role::wind),
            "\"wind (furlong)\": the unit \"furlong\" is not known (known: m/s, km/h, mph, knots, 0.1 m/s); the column "
            "is not read");
  EXPECT_EQ(words(NoticeKind::wind_height, {.low = {10, "m"}, .factor = 0.7479}),
            "the wind was measured at 10 m; multiplied by 0.748 for 2 m above the ground (FAO-56)");
  EXPECT_EQ(words(NoticeKind::place, {.name = "\"A\"", .cell = "\"B\"", .low = {-8, "h"}}),
            "place: \"A\", \"B\"; hours are of the zone -8 h from UTC, all year");
  EXPECT_EQ(words(NoticeKind::missing, {.name = "tmin"}), "tmin: missing (empty)");
  EXPECT_EQ(words(NoticeKind::missing, {.name = "tmin", .cell = "\"NA\""}), "tmin: missing (\"NA\")");
}

TEST(NoticeWords, NameTheControlOfTheReader) {
  const Notice notice{.kind = NoticeKind::wind_height_unknown, .role = Role::wind};
  EXPECT_EQ(notice_words(notice, option_of),
            "the height at which the wind was measured is not said; taken as 2 m (--wind-height changes it)");
  EXPECT_EQ(notice_words(notice, [](std::string_view) { return ""; }),
            "the height at which the wind was measured is not said; taken as 2 m");
}

TEST(NoticeWords, SayARunOnceAndCountTheRest) {
  Notice notice{.kind = NoticeKind::missing, .role = Role::tmin, .finding = {.name = "tmin"}, .findings = 2};
  EXPECT_EQ(notice_words(notice, {}), "tmin: missing (empty), and likewise in the row after it");
  notice.findings = 5;
  EXPECT_EQ(notice_words(notice, {}), "tmin: missing (empty), and likewise in the 4 rows after it");
  notice.not_kept = true;
  EXPECT_EQ(notice_words(notice, {}), "and 5 more like these: missing values of minimum temperature");
  EXPECT_EQ(notice_kind_words(notice), "missing values of minimum temperature");
}

// Covers: no kind was forgotten. Those on the file as a whole share their kind's words.
TEST(NoticeWords, OfEveryKindAreThereAndDiffer) {
  std::set<std::string> sentences;
  for (int kind = 0; kind < climate::kNoticeKinds; ++kind) {
    const Notice notice{.kind = static_cast<NoticeKind>(kind), .finding = {.name = "n", .cell = "c"}};
    const std::string sentence = notice_words(notice, {});
    EXPECT_FALSE(sentence.empty()) << kind;
    EXPECT_TRUE(sentences.insert(sentence).second) << sentence;
    EXPECT_EQ(notice_kind_words(notice) == "the file as a whole", climate::is_about_file(notice.kind)) << kind;
  }
}

}  // namespace
}  // namespace strikebed::print
