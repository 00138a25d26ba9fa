// The weather summary as text and as JSON: what a grower and a program read of a small made-up record.
#include "print/weather_text.hpp"

#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "print/weather_json.hpp"

namespace strikebed::print {
namespace {

using Json = nlohmann::json;

/// Two years, 10 and 20 °C every day, frost on 10 April of the first, a day without a minimum in the second.
climate::WeatherRecord record() {
  climate::WeatherRecord made;
  made.name = "made-up.csv";
  for (Date date = make_date(2021, 1, 1); date <= make_date(2022, 12, 31); date += Days{1}) {
    climate::Day day{};
    day.date = date;
    day.tmin_c = date == make_date(2021, 4, 10) ? -1 : 10;
    day.tmax_c = 20;
    made.days.push_back(day);
  }
  made.days[500].tmin_c.reset();
  made.notices = {{.kind = climate::NoticeKind::missing,
                   .role = climate::Role::tmin,
                   .finding = {.name = "low", .column = 4},
                   .line = 502,
                   .last_line = 502}};
  return made;
}

const climate::Place kPlace{.latitude_deg = 47.6, .longitude_deg = -122.3, .elevation_m = 20};

std::string option_of(std::string_view field) { return "--" + std::string(field); }

bool says(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST(WeatherText, SaysWhatTheRecordHolds) {
  const std::string text = weather_text(climate::summarise(record(), kPlace, {5}), option_of);
  EXPECT_TRUE(says(text, "made-up.csv: 730 days, 1 Jan 2021 to 31 Dec 2022")) << text;
  EXPECT_TRUE(says(text, "Lowest -1.0 °C on 10 Apr 2021")) << text;
  EXPECT_TRUE(says(text, "2022*")) << text;                    // one day has no minimum
  EXPECT_TRUE(says(text, "Last in spring: 10 Apr.")) << text;  // the second spring is not whole
  EXPECT_TRUE(says(text, "First in autumn: none in 2 years.")) << text;
  EXPECT_TRUE(says(text, "line 502, column 4: low: missing (empty)")) << text;
  EXPECT_EQ(text.back(), '\n');
}

TEST(WeatherText, OfAPlaceUnknownLeavesOutWhatNeedsTheLatitude) {
  const std::string text = weather_text(climate::summarise(record(), std::nullopt, {5}), option_of);
  EXPECT_TRUE(says(text, "The latitude is not known")) << text;
}

TEST(WeatherText, OfATypicalYearIsNoRecordOfYears) {
  climate::WeatherRecord typical = record();
  typical.kind = climate::RecordKind::typical_year;
  typical.days.resize(365);
  const std::string text = weather_text(climate::summarise(typical, kPlace, {5}), option_of);
  EXPECT_TRUE(says(text, "one typical year of 365 days")) << text;
  EXPECT_FALSE(says(text, "2021")) << text;  // the years in such a file mean nothing
}

TEST(WeatherText, ShowsFiveNoticesOfAKindAndCountsTheRest) {
  climate::WeatherRecord noisy = record();
  noisy.notices.assign(123, {.kind = climate::NoticeKind::filled});
  noisy.notices.push_back(
      {.kind = climate::NoticeKind::impossible,
       .role = climate::Role::rain,
       .finding = {.name = "rain", .cell = "\"odd\"", .low = {0, "mm"}, .high = {2000, "mm"}, .column = 3},
       .line = 221,
       .last_line = 233,
       .findings = 13});
  const std::string text = weather_text(climate::summarise(noisy, kPlace, {5}), option_of);
  EXPECT_TRUE(says(text, "  lines 221-233, column 3: rain: \"odd\" cannot be (possible: 0 to 2000 mm)")) << text;
  EXPECT_TRUE(says(text, "and 118 more (--json lists all, up to 1000 of a kind)")) << text;
}

TEST(WeatherText, SaysOfThePlaceOnlyWhatIsKnown) {
  const std::string text =
      weather_text(climate::summarise(record(), climate::Place{.latitude_deg = -42.9}, {5}), option_of, 200);
  EXPECT_TRUE(says(text, "Place: 42.90° south. Its elevation is not known; reckoned as at sea level.")) << text;
  EXPECT_TRUE(says(weather_text(climate::summarise(record(), kPlace, {5}), option_of, 200),
                   "Place: 47.60° north, 122.30° west, 20 m."));
}

TEST(WeatherText, LeavesOutMonthsWithoutDataAndMarksThoseThatAreNotWhole) {
  climate::WeatherRecord april = record();
  april.days.erase(april.days.begin(), april.days.begin() + 90);
  april.days.resize(12);
  for (climate::Day& day : april.days) day.rain_mm = 2;
  const std::string text = weather_text(climate::summarise(april, kPlace, {5}), option_of, 200);
  EXPECT_TRUE(says(text, "\n  Apr")) << text;
  EXPECT_FALSE(says(text, "\n  May")) << text;
  EXPECT_TRUE(says(text, " 24*")) << text;
  EXPECT_TRUE(says(text, "*: of the days measured, which are fewer than a month has; not scaled up.")) << text;
}

// Covers  lines stay within the width, counted in characters, but for tables that cannot be narrower.
TEST(WeatherText, KeepsToTheWidth) {
  const std::string text = weather_text(climate::summarise(record(), kPlace, {5}), option_of, 80);
  std::size_t cells = 0;
  for (const char c : text) {
    if (c == '\n') {
      EXPECT_LE(cells, 80U);
      cells = 0;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++cells;
    }
  }
}

TEST(WeatherJson, HoldsTheSameNumbers) {
  const Json json = Json::parse(weather_json(climate::summarise(record(), kPlace, {5, 12})));
  EXPECT_EQ(json["days"], 730);
  EXPECT_EQ(json["first"], "2021-01-01");
  EXPECT_EQ(json["months"].size(), 12U);
  EXPECT_EQ(json["months"][6]["tmin_c"], 10);
  EXPECT_TRUE(json["months"][6]["rain_mm"].is_null());
  EXPECT_EQ(json["degree_days"].size(), 4U);  // two years, two bases
  EXPECT_EQ(json["degree_days"][0]["base_c"], 5);
  EXPECT_EQ(json["degree_days"][0]["whole_year"], true);
  EXPECT_EQ(json["degree_days"][2]["whole_year"], false);
  EXPECT_EQ(json["frosts"]["last_spring_frost"]["median"], "--04-10");
  EXPECT_EQ(json["frosts"]["seasons"][1]["spring_known"], false);
  EXPECT_EQ(json["coverage"]["temperature"]["missing_days"], 1);
  EXPECT_EQ(json["can_be_resampled"], false);
  EXPECT_EQ(json["notices"][0]["line"], 502);
  EXPECT_EQ(json["notices"][0]["findings"], 1);
}

TEST(WeatherJson, OfAnEmptyRecordHasNulls) {
  const Json json = Json::parse(weather_json(climate::summarise({}, std::nullopt, {5})));
  EXPECT_EQ(json["days"], 0);
  EXPECT_TRUE(json["first"].is_null());
  EXPECT_TRUE(json["site"].is_null());
  EXPECT_TRUE(json["lowest_tmin"]["c"].is_null());
}

}  // namespace
}  // namespace strikebed::print
