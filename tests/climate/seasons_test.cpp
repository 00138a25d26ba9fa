#include "climate/seasons.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "climate/statistics.hpp"
#include "tests/climate/seattle.hpp"

namespace strikebed::climate {
namespace {

/// A made-up record whose temperatures name their day: tmax = days since 1 January 1990 / 100, tmin one degree less.
WeatherRecord counted_record(int first_year, int last_year) {
  WeatherRecord record;
  record.name = "counted";
  const Date zero = make_date(1990, 1, 1);
  for (Date date = make_date(first_year, 1, 1); date <= make_date(last_year, 12, 31); date += Days{1}) {
    const double number = static_cast<double>((date - zero).count()) / 100;
    record.days.push_back(day_with(date, number - 1, number));
  }
  return record;
}

float expected_tmax(Date date) {
  return static_cast<float>(static_cast<double>((date - make_date(1990, 1, 1)).count()) / 100);
}

// Covers  seasons are cut whole, across the turn of the year, one a year, and `count` gives way to what is on file.
TEST(Seasons, AreCutWholeFromTenYearsOrMore) {
  const auto seasons = weather_seasons(counted_record(2000, 2011), make_date(2026, 9, 15), 300, 500, 1);
  ASSERT_TRUE(seasons.ok());
  EXPECT_EQ(seasons->origin.way, SeasonsOrigin::Way::as_recorded);
  EXPECT_EQ(seasons->count, 11);  // the twelfth would run past the end
  ASSERT_EQ(seasons->tmax_c.size(), 11U * 300U);
  for (int s = 0; s < 11; ++s) {
    const Date start = make_date(2000 + s, 9, 15);
    for (const int d : {0, 107, 299}) {
      const auto at = static_cast<std::size_t>(s * 300 + d);
      EXPECT_FLOAT_EQ(seasons->tmax_c[at], expected_tmax(start + Days{d}));
      EXPECT_FLOAT_EQ(seasons->tmin_c[at], expected_tmax(start + Days{d}) - 1);
    }
  }
  EXPECT_EQ(seasons->origin.held, 11);
  EXPECT_EQ(seasons->origin.first_year, 2000);
  EXPECT_EQ(seasons->origin.last_year, 2010);
}

TEST(Seasons, LeaveOutThoseThatTouchAGap) {
  WeatherRecord record = counted_record(2000, 2011);
  record.days[500].tmin_c.reset();  // 15 May 2001
  const auto seasons = weather_seasons(record, make_date(2026, 3, 1), 200, 500, 1);
  ASSERT_TRUE(seasons.ok());
  EXPECT_EQ(seasons->count, 11);
  EXPECT_FLOAT_EQ(seasons->tmax_c[200], expected_tmax(make_date(2002, 3, 1)));
}

// Covers  the stretch of a plan made in November for October, with weather to spare: 435 days over two turns of the
// year, of which ten years hold eight.
TEST(Seasons, AreUsedAsTheyWereFromTenYearsOn) {
  for (const int years : {9, 10, 11, 12}) {
    const WeatherRecord record = counted_record(2000, 2000 + years - 1);
    EXPECT_EQ(whole_years(record), years);
    const auto seasons = weather_seasons(record, make_date(2026, 11, 25), 435, 50, 1);
    ASSERT_TRUE(seasons.ok());
    EXPECT_EQ(seasons->origin.way, years >= 10 ? SeasonsOrigin::Way::as_recorded : SeasonsOrigin::Way::like_few_years);
    EXPECT_EQ(seasons->count, years >= 10 ? years - 2 : 50) << years;
    EXPECT_EQ(seasons->origin.held, years >= 10 ? years - 2 : 9);
  }
  WeatherRecord short_of_a_day = counted_record(2000, 2009);
  short_of_a_day.days.pop_back();
  EXPECT_EQ(whole_years(short_of_a_day), 9);
}

TEST(Seasons, AreGeneratedWhenTooFewAreWhole) {
  WeatherRecord record = counted_record(2000, 2009);
  record.days[500].tmin_c.reset();
  const auto seasons = weather_seasons(record, make_date(2026, 11, 25), 435, 50, 1);
  ASSERT_TRUE(seasons.ok());
  EXPECT_EQ(seasons->origin.way, SeasonsOrigin::Way::like_gaps);
  EXPECT_EQ(seasons->origin.held, 7);
}

TEST(Seasons, NeverResampleATypicalYear) {
  WeatherRecord record = counted_record(2000, 2020);
  record.kind = RecordKind::typical_year;
  const auto seasons = weather_seasons(record, make_date(2026, 3, 1), 100, 20, 1);
  ASSERT_TRUE(seasons.ok());
  EXPECT_EQ(seasons->origin.way, SeasonsOrigin::Way::like_typical_year);
  EXPECT_EQ(seasons->count, 20);
}

TEST(Seasons, StartOnTheLastOfFebruaryWhereThereIsNoTwentyNinth) {
  const auto seasons = weather_seasons(counted_record(2000, 2011), make_date(2028, 2, 29), 10, 5, 1);
  ASSERT_TRUE(seasons.ok());
  EXPECT_FLOAT_EQ(seasons->tmax_c[0], expected_tmax(make_date(2000, 2, 29)));
  EXPECT_FLOAT_EQ(seasons->tmax_c[10], expected_tmax(make_date(2001, 2, 28)));
}

// Covers  four years of Seattle give generated seasons with the record's spring; the mean of April-June over 1,000
// seasons
//         has a standard error of about 0.03 °C, hence 0.1.
TEST(Seasons, OfFourYearsFollowTheRecord) {
  const auto seasons = weather_seasons(seattle(), make_date(2027, 4, 1), 91, 1000, 5);
  ASSERT_TRUE(seasons.ok());
  double sum = 0;
  for (const float tmax : seasons->tmax_c) sum += static_cast<double>(tmax);
  const auto months = month_statistics(seattle(), tmax_of);
  EXPECT_NEAR(sum / 91000, (30 * months[3].mean + 31 * months[4].mean + 30 * months[5].mean) / 91, 0.1);
}

TEST(Seasons, SayWhatIsWrong) {
  WeatherRecord record = seattle();
  std::erase_if(record.days, [](const Day& day) { return month_of(day.date) == 6 && day_of_month(day.date) > 4; });
  const auto thin = weather_seasons(record, make_date(2027, 4, 1), 91, 10, 5);
  ASSERT_FALSE(thin.ok());
  EXPECT_EQ(
      thin.error().message(),
      "seattle-2012-2015.csv: the record holds 16 days of June with both minimum and maximum temperature; allowed: "
      "20 or more in every month of the year");
  EXPECT_FALSE(weather_seasons(seattle(), make_date(2027, 4, 1), 0, 10, 5).ok());
  EXPECT_FALSE(weather_seasons(seattle(), make_date(2027, 4, 1), 1101, 10, 5).ok());
  EXPECT_FALSE(weather_seasons(seattle(), make_date(2027, 4, 1), 91, 0, 5).ok());

  MonthlyNormals upside_down;
  upside_down.tmin_c.fill(10);
  upside_down.tmax_c.fill(5);
  const auto wrong = weather_seasons(upside_down, make_date(2027, 4, 1), 91, 10, 5);
  ASSERT_FALSE(wrong.ok());
  EXPECT_NE(wrong.error().message().find("January"), std::string::npos);
}

TEST(Seasons, FromNormalsNeedNoRecord) {
  const MonthlyNormals normals = *monthly_normals(seattle());
  const auto seasons = weather_seasons(normals, make_date(2027, 4, 1), 91, 1000, 5);
  ASSERT_TRUE(seasons.ok());
  EXPECT_EQ(seasons->origin.way, SeasonsOrigin::Way::like_normals);
  EXPECT_EQ(seasons->tmin_c.size(), 91000U);
}

// The days that lie behind are the record's own, as far as there is no gap, and none from before it begins.
TEST(Seasons, KnownDaysAreThoseOnFile) {
  WeatherRecord record = counted_record(2024, 2026);
  const Date first = make_date(2026, 3, 1);
  const KnownDays known = known_days(record, first, make_date(2026, 4, 10));
  ASSERT_EQ(known.count(), 40U);
  EXPECT_FLOAT_EQ(known.tmax_c[39], expected_tmax(make_date(2026, 4, 9)));
  record.days[static_cast<std::size_t>((make_date(2026, 3, 11) - record.days.front().date).count())].tmax_c.reset();
  EXPECT_EQ(known_days(record, first, make_date(2026, 4, 10)).count(), 10U);
  EXPECT_EQ(known_days(record, make_date(2023, 12, 31), first).count(), 0U);
  EXPECT_EQ(known_days(record, make_date(2026, 12, 30), make_date(2027, 2, 1)).count(), 2U);
}

// Every season as recorded begins with the days that are known and goes on as its own year did.
TEST(Seasons, AsRecordedAreSplicedToWhatIsKnown) {
  const Date first = make_date(2026, 3, 1);
  const KnownDays known{{1, 2, 3}, {11, 12, 13}};
  const auto seasons = weather_seasons(counted_record(2000, 2011), first, 200, 500, 1, known);
  ASSERT_TRUE(seasons.ok());
  ASSERT_EQ(seasons->count, 12);
  for (int s = 0; s < seasons->count; ++s) {
    const auto at = static_cast<std::size_t>(s) * 200;
    EXPECT_FLOAT_EQ(seasons->tmin_c[at + 2], 3);
    EXPECT_FLOAT_EQ(seasons->tmax_c[at + 2], 13);
    EXPECT_FLOAT_EQ(seasons->tmax_c[at + 3], expected_tmax(make_date(2000 + s, 3, 4)));
  }
}

}  // namespace
}  // namespace strikebed::climate
