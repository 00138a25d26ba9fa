// What is repaired in a weather file, what is only counted, and what is refused.
#include "climate/checking.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "climate/csv_reader.hpp"

namespace strikebed::climate {
namespace {

WeatherRecord read(std::string_view text) {
  auto record = read_weather_csv(text, "w.csv");
  EXPECT_TRUE(record.ok()) << (record.ok() ? "" : record.error().message());
  return record.ok() ? std::move(record).value() : WeatherRecord{};
}

std::string error_of(std::string_view text) {
  const auto record = read_weather_csv(text, "w.csv");
  return record.ok() ? "no error" : record.error().message();
}

/// The first notice of this kind, or null.
const Notice* notice_of(const WeatherRecord& record, NoticeKind kind) {
  const auto found = std::find_if(record.notices.begin(), record.notices.end(),
                                  [kind](const Notice& one) { return one.kind == kind; });
  return found == record.notices.end() ? nullptr : &*found;
}

Date may(int day) { return make_date(2027, 5, day); }

/// One row an hour of 2027-05-01 and -02, °C = hour, without the hours in [gap_from, gap_to) of the second day.
std::string two_days_of_hours(int gap_from, int gap_to) {
  std::string text = "time,temp\n";
  for (int hour = 0; hour < 48; ++hour) {
    if (hour >= 24 + gap_from && hour < 24 + gap_to) continue;
    text += fmt::format("2027-05-{:02} {:02}:00,{}\n", 1 + hour / 24, hour % 24, hour % 24);
  }
  return text;
}

// Ref  by hand: three days between 4 and 12 lie at 6, 8 and 10.
TEST(WeatherGaps, OfThreeDaysAreFilledByAStraightLine) {
  const auto record = read("date,tmin,tmax\n2027-05-01,4,14\n2027-05-05,12,22\n");
  ASSERT_EQ(record.days.size(), 5U);
  EXPECT_EQ(record.days_filled, 3);
  EXPECT_EQ(record.days_missing, 0);
  for (std::size_t i = 1; i < 4; ++i) {
    EXPECT_TRUE(record.days[i].filled);
    EXPECT_DOUBLE_EQ(*record.days[i].tmin_c, 4 + 2.0 * static_cast<double>(i));
    EXPECT_DOUBLE_EQ(*record.days[i].tmax_c, 14 + 2.0 * static_cast<double>(i));
  }
  EXPECT_FALSE(record.days[0].filled || record.days[4].filled);
  const Notice* notice = notice_of(record, NoticeKind::filled);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2)}, .other = {may(4)}, .count = 3}));
  EXPECT_EQ(notice->line, 2);
}

TEST(WeatherGaps, OfFourDaysAreLeftAndCounted) {
  const auto record = read("date,tmin,tmax\n2027-05-01,4,14\n2027-05-06,12,22\n");
  ASSERT_EQ(record.days.size(), 6U);
  EXPECT_EQ(record.days_filled, 0);
  EXPECT_EQ(record.days_missing, 4);
  EXPECT_FALSE(record.days[2].tmin_c || record.days[2].tmax_c || record.days[2].filled);
  const Notice* notice = notice_of(record, NoticeKind::long_gap);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2)}, .other = {may(5)}, .count = 4}));
}

TEST(WeatherGaps, AtTheEdgeAreNotFilled) {
  const auto record = read("date,tmin,tmax\n2027-05-01,NA,14\n2027-05-02,4,14\n2027-05-03,4,\n");
  EXPECT_EQ(record.days_filled, 0);
  EXPECT_EQ(record.days_missing, 2);
  EXPECT_EQ(record.days[0].tmax_c, 14.0);
}

TEST(WeatherGaps, FilledMinimumNeverCrossesAMeasuredMaximum) {
  const auto record = read("date,tmin,tmax\n2027-05-01,10,20\n2027-05-02,NA,3\n2027-05-03,10,20\n");
  EXPECT_EQ(record.days[1].tmin_c, 3.0);
  EXPECT_EQ(record.days[1].tmax_c, 3.0);
  EXPECT_TRUE(record.days[1].filled);
}

TEST(WeatherGaps, OneExtremeFilledIsNotADayFilled) {
  // the minimum is missing once, the maximum for five days
  std::string text = "date,tmin,tmax\n2027-05-01,4,14\n";
  for (int day = 2; day <= 6; ++day) text += fmt::format("2027-05-{:02},{},\n", day, day == 4 ? "" : "5");
  const auto record = read(text + "2027-05-07,4,14\n");
  EXPECT_EQ(record.days_missing, 5);
  EXPECT_EQ(record.days_filled, 0);
  EXPECT_FALSE(record.days[3].filled);
}

TEST(WeatherDoubles, IdenticalAreDroppedDifferentRefused) {
  const auto record = read("date,tmin,tmax\n2027-05-01,1,2\n2027-05-01,1,2\n2027-05-02,1,2\n");
  EXPECT_EQ(record.days.size(), 2U);
  const Notice* notice = notice_of(record, NoticeKind::doubled);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(1)}, .first_line = 2}));
  EXPECT_EQ(notice->line, 3);
  EXPECT_EQ(error_of("date,tmin,tmax\n2027-05-02,1,2\n2027-05-01,1,2\n2027-05-02,1,3\n"),
            "w.csv:4: 2027-05-02 is there twice with different values (first in line 2); allowed: one row a day");
}

TEST(WeatherOrder, IsRestoredAndSaid) {
  const auto record = read("date,tmin,tmax\n2027-05-03,3,13\n2027-05-01,1,11\n2027-05-02,2,12\n");
  ASSERT_EQ(record.days.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_EQ(record.days[i].tmin_c, static_cast<double>(i + 1));
  const Notice* notice = notice_of(record, NoticeKind::out_of_order);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(1)}, .other = {may(3)}}));
  EXPECT_EQ(notice->line, 3);
}

// A logger that is read out twice writes its last hours again: that is one finding, and no disorder.
TEST(WeatherOrder, HoursWrittenAgainAreSaidOnceAndNotOutOfOrder) {
  std::string text = two_days_of_hours(24, 24);
  for (int hour = 1; hour <= 13; ++hour) text += fmt::format("2027-05-02 {:02}:00,{}\n", hour, hour);
  const auto record = read(text);
  EXPECT_EQ(notice_of(record, NoticeKind::out_of_order), nullptr);
  const Notice* notice = notice_of(record, NoticeKind::doubled);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2), 60}, .first_line = 27}));
  EXPECT_EQ(notice->line, 50);
  EXPECT_EQ(notice->last_line, 62);
  EXPECT_EQ(notice->findings, 13);
}

TEST(WeatherOrder, OfHoursIsSaidWithTheirTimes) {
  std::string text = "time,temp\n";
  for (const int hour : {0, 2, 1}) text += fmt::format("2027-05-01 {:02}:00,{}\n", hour, hour);
  for (int hour = 3; hour < 24; ++hour) text += fmt::format("2027-05-01 {:02}:00,{}\n", hour, hour);
  const auto record = read(text);
  const Notice* notice = notice_of(record, NoticeKind::out_of_order);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(1), 60}, .other = {may(1), 120}}));
}

TEST(WeatherExtremes, AreSaidInTheUnitOfTheFile) {
  const auto record = read("date,tmin (°F),tmax (°F)\n2027-05-01,54.5,35.6\n");
  const Notice* notice = notice_of(record, NoticeKind::swapped);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding.low.unit, "°F");
  EXPECT_NEAR(notice->finding.low.number, 54.5, 1e-9);
  EXPECT_NEAR(notice->finding.high.number, 35.6, 1e-9);
}

TEST(WeatherExtremes, SwappedAreSwappedBack) {
  const auto record = read("date,tmin,tmax\n2027-05-01,12.5,2\n");
  EXPECT_EQ(record.days[0].tmin_c, 2.0);
  EXPECT_EQ(record.days[0].tmax_c, 12.5);
  const Notice* notice = notice_of(record, NoticeKind::swapped);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(1)}, .low = {12.5, "°C"}, .high = {2, "°C"}}));
  EXPECT_EQ(notice->line, 2);
}

TEST(WeatherHours, TwentyOfADayAreEnoughAndSaid) {
  const auto record = read(two_days_of_hours(20, 24));
  ASSERT_EQ(record.days.size(), 2U);
  EXPECT_EQ(record.days[1].tmax_c, 19.0);
  const Notice* notice = notice_of(record, NoticeKind::few_hours);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2)}, .count = 20}));
}

TEST(WeatherHours, NineteenOfADayAreNot) {
  const auto record = read(two_days_of_hours(19, 24));
  EXPECT_EQ(record.days_missing, 1);
  EXPECT_FALSE(record.days[1].has_temperature());
  const Notice* notice = notice_of(record, NoticeKind::too_few_hours);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2)}, .count = 19, .of = 20}));
}

TEST(WeatherHours, TooFarApartAreRefused) {
  EXPECT_EQ(
      error_of("time,temp\n2027-05-01 00:00,1\n2027-05-01 03:00,2\n2027-05-01 06:00,2\n"),
      "w.csv:2: no day has temperatures in 20 of its 24 hours; the fullest has 3; allowed: rows an hour or less apart");
}

TEST(WeatherHours, OfAClockSetBackAreBothKept) {
  std::string text = two_days_of_hours(24, 24);
  text += "2027-05-02 01:00,-3\n";  // the second one o'clock of the night
  const auto record = read(text);
  EXPECT_EQ(record.days[1].tmin_c, -3.0);
  const Notice* notice = notice_of(record, NoticeKind::clock_change);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->finding, (Finding{.when = {may(2), 60}}));
  EXPECT_EQ(
      error_of(two_days_of_hours(24, 24) + "2027-05-02 13:00,-3\n"),
      "w.csv:50: 2027-05-02 13:00 is there twice with different values (first in line 39); allowed: one row an hour");
}

// Rows of ten minutes give the same day as rows of an hour when the value is steady: 250 W/m2 are 21.6 MJ/m2 a day.
TEST(WeatherHours, MayBeCutFiner) {
  std::string text = "time,temp,ghi (W/m2)\n";
  for (int minute = 0; minute < 1440; minute += 10) {
    text += fmt::format("2027-05-01 {:02}:{:02},{},250\n", minute / 60, minute % 60, minute / 60);
  }
  const auto record = read(text);
  EXPECT_NEAR(*record.days.at(0).radiation_mj_m2, 21.6, 1e-9);
  EXPECT_EQ(record.days[0].tmax_c, 23.0);
  EXPECT_EQ(record.hourly_rows, 144);
}

TEST(WeatherHours, OneRowADayWithATimeIsADailyFile) {
  const auto record = read("time,tmin,tmax\n2027-05-01T00:00,1,2\n2027-05-02T00:00,1,2\n");
  EXPECT_EQ(record.hourly_rows, 0);
  EXPECT_EQ(record.days.size(), 2U);
}

TEST(WeatherHours, TwentyFourHundredBelongsToTheDayItEnds) {
  std::string text = "date,hour,temp\n";
  for (int day = 1; day <= 2; ++day) {
    for (int hour = 1; hour <= 24; ++hour) text += fmt::format("2027-05-{:02},{},{}\n", day, hour, hour);
  }
  const auto record = read(text);
  ASSERT_EQ(record.days.size(), 2U);
  EXPECT_EQ(record.days[0].tmax_c, 24.0);
}

TEST(WeatherHumidity, IsTheMeanOfItsExtremesWhereOnlyTheyAreGiven) {
  EXPECT_EQ(read("date,tmin,tmax,rh min,rh max\n2027-05-01,1,2,40,90\n").days.at(0).humidity_pct, 65.0);
}

TEST(WeatherRadiation, OfADayIsBounded) {
  const auto record = read("date,tmin,tmax,ghi (W/m2)\n2027-05-01,1,2,900\n");
  EXPECT_FALSE(record.days.at(0).radiation_mj_m2);
  const Notice* notice = notice_of(record, NoticeKind::sunny_day);
  ASSERT_NE(notice, nullptr);
  EXPECT_NEAR(notice->finding.low.number, 900 * 0.0864, 1e-9);
}

// Ref  top of the atmosphere at 47.6° N: FAO-56 equation 21, about 37 MJ/m2 on 1 May and 9.2 in early January.
TEST(WeatherRadiation, OfADayIsNoMoreThanTheSkyCanSend) {
  const auto at = [](std::optional<double> latitude_deg) {
    CsvOptions options;
    options.latitude_deg = latitude_deg;
    const std::string text = "date,tmin,tmax,ghi (MJ/m2)\n2027-01-01,1,2,8\n2027-01-02,1,2,20\n2027-05-01,1,2,33\n";
    return read_weather_csv(text, "w.csv", options).value();
  };
  const auto placed = at(47.6);
  EXPECT_EQ(placed.days.front().radiation_mj_m2, 8.0);
  EXPECT_FALSE(placed.days.at(1).radiation_mj_m2);
  EXPECT_EQ(placed.days.back().radiation_mj_m2, 33.0);
  const Notice* notice = notice_of(placed, NoticeKind::sunny_day);
  ASSERT_NE(notice, nullptr);
  EXPECT_EQ(notice->findings, 1);
  EXPECT_NEAR(notice->finding.high.number, 9.7, 0.2);
  EXPECT_EQ(at(std::nullopt).days.at(1).radiation_mj_m2, 20.0) << "nothing is known of the sun there";
  EXPECT_EQ(at(-47.6).days.at(1).radiation_mj_m2, 20.0) << "midsummer in the south";
}

// Ref  FAO-56, annex 2, table 2.9 (from memory): 1.000 at 2 m, 0.921 at 3 m, 0.748 at 10 m. Tol: its three digits.
TEST(WeatherWind, FactorMatchesThePublishedTable) {
  EXPECT_NEAR(wind_factor_to_2_m(2), 1.000, 0.0005);
  EXPECT_NEAR(wind_factor_to_2_m(3), 0.921, 0.0006);
  EXPECT_NEAR(wind_factor_to_2_m(10), 0.748, 0.0005);
}

}  // namespace
}  // namespace strikebed::climate
