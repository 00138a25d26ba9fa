#include "climate/summary.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "climate/degree_days.hpp"
#include "tests/climate/seattle.hpp"

namespace strikebed::climate {
namespace {

const Place kSeattle{.latitude_deg = 47.6, .longitude_deg = -122.3, .elevation_m = 20};

/// Whole years in which tmin is `winter` from the `from`-th to the `to`-th day of each listed year and 10 otherwise.
WeatherRecord with_frost(Date first, Date last, const std::vector<Date>& frosts) {
  WeatherRecord record;
  record.name = "made up";
  for (Date date = first; date <= last; date += Days{1}) record.days.push_back(day_with(date, 5, 15));
  for (const Date frost : frosts) record.days[static_cast<std::size_t>((frost - first).count())].tmin_c = -1;
  return record;
}

std::chrono::month_day month_day(unsigned month, unsigned day) {
  return std::chrono::month{month} / std::chrono::day{day};
}

// Ref  tests/reference, wx.seattle.months, .rain and .gdd5.  Tol  their last printed digit.
TEST(Summary, OfSeattleMatchesTheReference) {
  const auto summary = summarise(seattle(), kSeattle, {5});
  EXPECT_EQ(summary.days, 1461);
  EXPECT_EQ(summary.months[0].days, 124);
  EXPECT_NEAR(*summary.months[0].tmax_c, 8.229, 0.0006);
  EXPECT_NEAR(*summary.months[6].tmin_c, 14.1976, 0.0006);
  EXPECT_NEAR(summary.highest_tmax_c, 35.6, 1e-9);
  EXPECT_EQ(summary.hottest, make_date(2014, 8, 11));
  EXPECT_EQ(summary.coldest, make_date(2013, 12, 7));
  ASSERT_EQ(summary.years.size(), 4U);
  const double expected[] = {2451.017, 2759.324, 2975.691, 3049.911};
  for (std::size_t y = 0; y < 4; ++y) {
    EXPECT_NEAR(summary.years[y].by_base[0].single_sine, expected[y], 0.001);
    EXPECT_EQ(summary.years[y].days, summary.years[y].days_of_year);
    EXPECT_NEAR(*summary.years[y].by_base[0].hours / expected[y], 1, 0.02);
  }
  double rain = 0;
  for (std::size_t m = 0; m < 12; ++m) rain += summary.months[m].rain_mm->amount;
  EXPECT_NEAR(rain, 4426.0 / 4, 1);  // February counted as 28.25 days
  EXPECT_EQ(summary.whole_seasons, 4);
  EXPECT_FALSE(summary.can_be_resampled);
}

// Ref  by hand: 12 days of 2 mm are 24 mm, no month; 30 of them, over two years, are a whole April of 60 mm.
TEST(Summary, DoesNotScaleUpAMonthThatIsNotWhole) {
  WeatherRecord record;
  const auto add = [&](Date first, int days) {
    for (int i = 0; i < days; ++i) {
      record.days.push_back(day_with(first + Days{i}, i < 3 ? -1 : 5, 15));
      record.days.back().rain_mm = 2;
    }
  };
  add(make_date(2026, 4, 1), 12);
  const MonthSummary april = summarise(record, kSeattle, {}).months[3];
  EXPECT_NEAR(april.rain_mm->amount, 24, 1e-9);
  EXPECT_EQ(april.rain_mm->days, 12);
  EXPECT_FALSE(april.rain_mm->whole_month);
  EXPECT_NEAR(april.frost_days->amount, 3, 1e-9);
  EXPECT_FALSE(summarise(record, kSeattle, {}).months[4].measured());
  for (Date date = make_date(2026, 4, 13); date < make_date(2027, 4, 1); date += Days{1}) {
    record.days.emplace_back().date = date;  // a record has every day, known or not
  }
  add(make_date(2027, 4, 1), 18);
  const MonthSummary both = summarise(record, kSeattle, {}).months[3];
  EXPECT_NEAR(both.rain_mm->amount, 60, 1e-9);
  EXPECT_TRUE(both.rain_mm->whole_month);
}

TEST(Summary, SaysWhatIsMeasuredAndWhatEstimated) {
  const auto summary = summarise(seattle(), kSeattle, {5});
  EXPECT_EQ(summary.temperature.measured, 1461);
  EXPECT_EQ(summary.rain.measured, 1461);
  EXPECT_EQ(summary.humidity.estimated, 1461);
  EXPECT_EQ(summary.radiation.estimated, 1461);
  const auto nowhere = summarise(seattle(), std::nullopt, {5});
  EXPECT_EQ(nowhere.radiation.missing, 1461);
  EXPECT_FALSE(nowhere.months[0].day_length_h || nowhere.months[0].evaporation_mm);
  EXPECT_FALSE(nowhere.years[0].by_base[0].hours);
}

// Covers  the northern season is the calendar year; a spring without frost is counted and does not move the median.
TEST(Summary, FrostsOfTheNorth) {
  const auto record =
      with_frost(make_date(2001, 1, 1), make_date(2004, 12, 31),
                 {make_date(2001, 3, 5), make_date(2001, 4, 10), make_date(2002, 4, 20), make_date(2003, 4, 14),
                  make_date(2001, 11, 2), make_date(2001, 12, 24), make_date(2002, 10, 30)});
  const auto summary = summarise(record, kSeattle, {});
  ASSERT_EQ(summary.frosts.size(), 4U);
  EXPECT_EQ(summary.frosts[0].last_spring_frost, make_date(2001, 4, 10));
  EXPECT_EQ(summary.frosts[0].first_autumn_frost, make_date(2001, 11, 2));
  EXPECT_TRUE(summary.frosts[3].spring_known && !summary.frosts[3].last_spring_frost);
  EXPECT_EQ(summary.last_spring_frost.seasons, 4);
  EXPECT_EQ(summary.last_spring_frost.without_frost, 1);
  EXPECT_EQ(summary.last_spring_frost.earliest, month_day(4, 10));
  EXPECT_EQ(summary.last_spring_frost.median, month_day(4, 14));
  EXPECT_EQ(summary.last_spring_frost.latest, month_day(4, 20));
  EXPECT_EQ(summary.first_autumn_frost.median, month_day(10, 31));  // half-way between the two
}

// Covers  the southern season runs from July to June and is never cut by the turn of the year.
TEST(Summary, FrostsOfTheSouth) {
  const auto record = with_frost(make_date(2001, 1, 1), make_date(2003, 12, 31),
                                 {make_date(2001, 8, 1), make_date(2001, 9, 20), make_date(2002, 5, 12),
                                  make_date(2002, 6, 20), make_date(2002, 10, 3), make_date(2003, 5, 30)});
  const auto summary = summarise(record, Place{.latitude_deg = -42.9}, {});
  ASSERT_EQ(summary.frosts.size(), 4U);  // 2000/01 has only its autumn, 2003/04 only its spring
  EXPECT_FALSE(summary.frosts[0].spring_known);
  EXPECT_TRUE(summary.frosts[0].autumn_known);
  EXPECT_EQ(summary.frosts[1].starts_in, 2001);
  EXPECT_EQ(summary.frosts[1].last_spring_frost, make_date(2001, 9, 20));
  EXPECT_EQ(summary.frosts[1].first_autumn_frost, make_date(2002, 5, 12));
  EXPECT_EQ(summary.last_spring_frost.seasons, 3);
  EXPECT_EQ(summary.first_autumn_frost.earliest, month_day(5, 12));
}

TEST(Summary, AMissingMinimumMakesItsHalfYearUnknown) {
  WeatherRecord record = with_frost(make_date(2001, 1, 1), make_date(2001, 12, 31), {make_date(2001, 4, 10)});
  record.days[30].tmin_c.reset();
  const auto summary = summarise(record, kSeattle, {5});
  ASSERT_EQ(summary.frosts.size(), 1U);
  EXPECT_FALSE(summary.frosts[0].spring_known || summary.frosts[0].last_spring_frost);
  EXPECT_TRUE(summary.frosts[0].autumn_known);
  EXPECT_EQ(summary.years[0].days, 364);
  EXPECT_EQ(summary.temperature.missing, 1);
}

TEST(Summary, OfAnEmptyRecordIsEmpty) {
  const auto summary = summarise(WeatherRecord{}, kSeattle, {5});
  EXPECT_EQ(summary.days, 0);
  EXPECT_TRUE(summary.years.empty());
  EXPECT_FALSE(summary.coldest);
}

}  // namespace
}  // namespace strikebed::climate
