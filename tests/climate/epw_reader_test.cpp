// Reading EPW. Field order and missing codes are those of the EPW data dictionary; the year below is made up.
#include "climate/epw_reader.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

namespace strikebed::climate {
namespace {

constexpr std::string_view kHeader =
    "LOCATION,Somewhere,WA,USA,INVENTED,000000,47.60,-122.30,-8.0,20.0\n"
    "DESIGN CONDITIONS,0\n"
    "TYPICAL/EXTREME PERIODS,0\n"
    "GROUND TEMPERATURES,0\n"
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\n"
    "COMMENTS 1,an invented year\n"
    "COMMENTS 2,for tests\n"
    "DATA PERIODS,1,1,Data,Sunday,1/1,12/31\n";

struct Hour {
  int year = 1990;
  int month = 1;
  int day = 1;
  int hour = 1;
  std::string dry_bulb = "10";
  std::string dew_point = "5";
  std::string humidity = "70";
  std::string radiation = "100";
  std::string wind = "4";
  std::string rain = "0.1";
};

std::string line_of(const Hour& h) {
  return fmt::format(
      "{},{},{},{},0,?9?9?9?9E0?9?9?9?9?9?9?9?9?9?9?9?9?9?9?9*9*9?9*9*9,{},{},{},101325,0,0,300,{},0,0,0,0,0,0,180,{},"
      "5,5,16,"
      "77777,9,999999999,100,0.1,0,88,0.2,{},1.0\n",
      h.year, h.month, h.day, h.hour, h.dry_bulb, h.dew_point, h.humidity, h.radiation, h.wind, h.rain);
}

/// A whole year: `change` may alter each hour before it is written.
template <class Change>
std::string year_of_hours(Change change) {
  std::string text(kHeader);
  constexpr int kLengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  for (int month = 1; month <= 12; ++month) {
    for (int day = 1; day <= kLengths[month - 1]; ++day) {
      for (int hour = 1; hour <= 24; ++hour) {
        Hour h{1980 + month, month, day, hour, fmt::format("{}", hour)};
        change(h);
        text += line_of(h);
      }
    }
  }
  return text;
}

std::string error_of(std::string_view text) {
  const auto record = read_weather_epw(text, "s.epw");
  return record.ok() ? "no error" : record.error().message();
}

/// The first notice of this kind, or null.
const Notice* notice_of(const WeatherRecord& record, NoticeKind kind) {
  const auto found = std::find_if(record.notices.begin(), record.notices.end(),
                                  [kind](const Notice& notice) { return notice.kind == kind; });
  return found == record.notices.end() ? nullptr : &*found;
}

// Covers  field places, units, the nominal year. Ref: by hand from the invented hours: 24 hours of 1..24 °C, of
//         100 Wh/m2 and 0.1 mm, wind 4 m/s at 10 m times 0.748. Tol: rounding of sums.
TEST(EpwReader, ReadsATypicalYear) {
  const auto record = read_weather_epw(year_of_hours([](Hour&) {}), "s.epw");
  ASSERT_TRUE(record.ok()) << record.error().message();
  EXPECT_EQ(record->kind, RecordKind::typical_year);
  ASSERT_EQ(record->days.size(), 365U);
  EXPECT_EQ(record->hourly_rows, 8760);
  EXPECT_EQ(to_iso(record->days.front().date), "2001-01-01");
  EXPECT_EQ(to_iso(record->days.back().date), "2001-12-31");
  EXPECT_EQ(record->days_missing + record->days_filled, 0);
  ASSERT_TRUE(record->site);
  EXPECT_EQ(record->site->latitude_deg, 47.6);
  EXPECT_EQ(record->site->longitude_deg, -122.3);
  EXPECT_EQ(record->site->elevation_m, 20);
  for (const Day& day : record->days) {
    EXPECT_EQ(day.tmin_c, 1.0);
    EXPECT_EQ(day.tmax_c, 24.0);
    EXPECT_NEAR(*day.radiation_mj_m2, 2400 * 0.0036, 1e-9);
    EXPECT_NEAR(*day.rain_mm, 2.4, 1e-9);
    EXPECT_NEAR(*day.humidity_pct, 70, 1e-9);
    EXPECT_NEAR(*day.dew_point_c, 5, 1e-9);
    EXPECT_NEAR(*day.wind_m_s, 4 * 0.748, 4 * 0.0005);
  }
  ASSERT_NE(notice_of(*record, NoticeKind::typical_year), nullptr);
  EXPECT_EQ(notice_of(*record, NoticeKind::typical_year)->finding.count, 2001);
  ASSERT_NE(notice_of(*record, NoticeKind::place), nullptr);
  EXPECT_EQ(notice_of(*record, NoticeKind::place)->finding.low, (WrittenNumber{-8, "h"}));
}

TEST(EpwReader, TakesTheMissingCodesOfTheFormatAsMissing) {
  const auto record = read_weather_epw(year_of_hours([](Hour& h) {
                                         if (h.month != 3 || h.day != 5) return;
                                         h.dry_bulb = h.dew_point = "99.9";
                                         h.humidity = h.wind = h.rain = "999";
                                         h.radiation = "9999";
                                       }),
                                       "s.epw");
  ASSERT_TRUE(record.ok()) << record.error().message();
  const Day& day = record->days.at(31 + 28 + 4);
  EXPECT_TRUE(day.filled);
  EXPECT_EQ(day.tmax_c, 24.0);
  EXPECT_FALSE(day.dew_point_c || day.humidity_pct || day.wind_m_s || day.radiation_mj_m2 || day.rain_mm);
  EXPECT_EQ(record->days_filled, 1);
}

TEST(EpwReader, LeavesOutTheLeapDayAndRainThatNeverFell) {
  std::string text = year_of_hours([](Hour& h) { h.rain = "0"; });
  for (int hour = 1; hour <= 24; ++hour) text += line_of({2020, 2, 29, hour});
  const auto record = read_weather_epw(text, "s.epw");
  ASSERT_TRUE(record.ok()) << record.error().message();
  EXPECT_EQ(record->days.size(), 365U);
  EXPECT_NE(notice_of(*record, NoticeKind::leap_day), nullptr);
  EXPECT_FALSE(record->days[100].rain_mm);
  EXPECT_NE(notice_of(*record, NoticeKind::no_rain), nullptr);
}

TEST(EpwReader, ReadsOlderFilesWithoutTheLastFields) {
  std::string text(kHeader);
  for (int hour = 1; hour <= 24; ++hour) {
    const std::string line = line_of({1990, 1, 1, hour});
    text += line.substr(0, line.find(",77777")) + "\n";
  }
  const auto record = read_weather_epw(text, "s.epw");
  ASSERT_TRUE(record.ok()) << record.error().message();
  EXPECT_EQ(record->days.size(), 1U);
  EXPECT_FALSE(record->days[0].rain_mm);
}

TEST(EpwReader, SaysWhatIsWrong) {
  EXPECT_EQ(error_of(""), "s.epw: the file is empty; allowed: an EPW file: 8 header lines, then a line an hour");
  EXPECT_EQ(error_of("date,tmin,tmax\n"),
            "s.epw:1:1: line 1 of an EPW file is its LOCATION line; found \"date\"; allowed: the eight header lines of "
            "the EPW "
            "format, in their order");
  EXPECT_EQ(error_of("LOCATION,a,b,c,d,1,95,0,0,0\n"),
            "s.epw:1:20: LOCATION: the latitude is \"95\"; allowed: a number from -90 to 90");
  EXPECT_EQ(
      error_of("LOCATION,a,b,c,d,1,45,0,0,0\n"),
      "s.epw:2:1: line 2 of an EPW file is its DESIGN CONDITIONS line; found the end of the file; allowed: the eight "
      "header lines of the EPW format, in their order");
  const std::string header(kHeader);
  EXPECT_EQ(error_of(header), "s.epw: there are no rows of data under the header; allowed: one row a day or an hour");
  EXPECT_EQ(error_of(header + "1990,1,1,1,0,x,10\n"), "s.epw:9: the row has 7 fields; allowed: 35 fields an hour");
  EXPECT_EQ(error_of(header + line_of({1990, 13, 1, 1})),
            "s.epw:9:6: month: the month is \"13\"; allowed: a whole number from 1 to 12");
  EXPECT_EQ(error_of(header + line_of({1990, 4, 31, 1})),
            "s.epw:9:8: day: there is no day 31 of month 4; allowed: real days");
  EXPECT_EQ(error_of(header + line_of({1990, 1, 1, 25})),
            "s.epw:9:10: hour: the hour is \"25\"; allowed: a whole number from 1 to 24");
  EXPECT_EQ(error_of(header + line_of({1990, 1, 1, 1, "warm"})),
            "s.epw:9:65: dry bulb temperature: \"warm\" is not a number; allowed: a number from -70 to 60");
  std::string years = year_of_hours([](Hour&) {});
  years += years.substr(kHeader.size());
  EXPECT_EQ(error_of(years),
            "s.epw:8793: the file holds more than one year; allowed: one typical year; several years of hours belong "
            "in a CSV "
            "file");
}

TEST(EpwReader, IsRecognisedByItsFirstWord) {
  EXPECT_TRUE(looks_like_epw(kHeader));
  EXPECT_FALSE(looks_like_epw("date,tmin,tmax\n"));
}

// Ref  top of the atmosphere at 47.6° N: FAO-56 equation 21, about 42 MJ/m2 in late June and 9 in late December.
TEST(Epw, RadiationTwiceTheTopOfTheAtmosphereIsTakenAsMissing) {
  const auto record = read_weather_epw(year_of_hours([](Hour& h) {
                                         const bool by_day = h.hour > 8 && h.hour <= 16;
                                         h.radiation = by_day ? "640" : "0";  // 18.4 MJ/m2 a day, all year
                                       }),
                                       "w.epw");
  ASSERT_TRUE(record.ok()) << record.error().message();
  EXPECT_FALSE(record->days.at(354).radiation_mj_m2) << "21 December";
  EXPECT_NEAR(record->days.at(171).radiation_mj_m2.value_or(0), 8 * 640 * 0.0036, 1e-9) << "21 June";
  EXPECT_NE(notice_of(*record, NoticeKind::sunny_day), nullptr);
}

}  // namespace
}  // namespace strikebed::climate
