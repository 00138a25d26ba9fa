#include "climate/sun.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <numeric>

namespace strikebed::climate {
namespace {

constexpr double kPi = std::numbers::pi;

Instant utc(Date date, int hour, int minute, int second = 0) {
  return Instant{date} + std::chrono::hours{hour} + std::chrono::minutes{minute} + std::chrono::seconds{second};
}

/// Hours from local midnight of `date`.
double local_hours(Instant event, Date date, double utc_offset_h) {
  return static_cast<double>((event - Instant{date}).count()) / 3600 + utc_offset_h;
}

const Site kGolden{.latitude_deg = 39.742476, .longitude_deg = -105.1786, .elevation_m = 1830.14};
const Site kTromso{.latitude_deg = 69.6492, .longitude_deg = 18.9553, .elevation_m = 10};
const Site kHobart{.latitude_deg = -42.8821, .longitude_deg = 147.3272, .elevation_m = 50};

// Ref  Reda & Andreas 2004, NREL/TP-560-34302, worked example: zenith 50.11162, azimuth 194.34024.
// Tol  0.02 degrees: the low-accuracy series' own 0.01 and the example's 67 s between time scales.
TEST(Sun, StandsWhereThePublishedExampleHasIt) {
  const auto sun =
      sun_position(utc(make_date(2003, 10, 17), 19, 30, 30), kGolden, {.pressure_kpa = 82, .temperature_c = 11});
  EXPECT_NEAR(90 - sun.elevation_deg, 50.11162, 0.02);
  EXPECT_NEAR(sun.azimuth_deg, 194.34024, 0.02);
}

// Ref  the same algorithm's reference implementation (pvlib), checked with astropy. Below the horizon nothing is
// refracted.
TEST(Sun, IsNotLiftedBelowTheHorizon) {
  const auto sun =
      sun_position(utc(make_date(2026, 12, 21), 11, 0), kTromso, {.pressure_kpa = 101.325, .temperature_c = -5});
  EXPECT_NEAR(90 - sun.elevation_deg, 93.14352, 0.02);
  EXPECT_NEAR(sun.azimuth_deg, 184.08316, 0.02);
}

TEST(Sun, StandsNorthAtNoonInTheSouth) {
  const auto events = sun_events(make_date(2026, 3, 21), kHobart, 11);
  const auto sun = sun_position(events.noon, kHobart);
  EXPECT_LT(std::abs(std::remainder(sun.azimuth_deg, 360)), 0.1);
  EXPECT_NEAR(sun.elevation_deg, 90 - 42.88, 0.6);  // equinox; the sun moves 0.4 degrees a day
  EXPECT_GT(sun_position(events.noon - std::chrono::hours{3}, kHobart).azimuth_deg, 20);   // morning: east of north
  EXPECT_LT(sun_position(events.noon + std::chrono::hours{3}, kHobart).azimuth_deg, 340);  // afternoon: west of it
}

// Covers  the evening of local 17 October, which lies in UTC day 18. The published 17:20:19 is the evening before.
// Ref     Reda & Andreas 2004 (sunrise 6:12:43, transit 11:46:05); sunset 17:18:51 by astropy and three other programs.
// Tol     30 s.
TEST(Sun, SetsOnTheLocalDate) {
  const Date date = make_date(2003, 10, 17);
  const auto events = sun_events(date, kGolden, -7);
  ASSERT_EQ(events.state, SunState::rises_and_sets);
  EXPECT_NEAR(local_hours(*events.sunrise, date, -7), 6.21194, 1 / 120.0);
  EXPECT_NEAR(local_hours(events.noon, date, -7), 11.76806, 1 / 120.0);
  EXPECT_NEAR(local_hours(*events.sunset, date, -7), 17.31417, 1 / 120.0);
  const auto before = sun_events(make_date(2003, 10, 16), kGolden, -7);
  EXPECT_NEAR(local_hours(*before.sunset, make_date(2003, 10, 16), -7), 17.33861, 1 / 120.0);
}

// Covers  the events near the polar circle, where the sun sinks slowest, at 10 degrees east.
// Ref     pyephem 4.1.4: apparent geocentric place, the root of the altitude at -0.8333 degrees.
// Tol     6 s, as the header says.
TEST(Sun, EventsAreWithinSixSecondsNearThePolarCircle) {
  struct Events {
    double latitude;
    Date date;
    Instant sunrise, sunset;
  };
  const Date may = make_date(2013, 5, 3), midwinter = make_date(2012, 12, 21), midsummer = make_date(2013, 6, 20);
  for (const Events& day : {Events{64.5, may, utc(may, 2, 42, 27), utc(may, 19, 53, 40)},
                            Events{64.5, midwinter, utc(midwinter, 9, 21, 1), utc(midwinter, 13, 15, 34)},
                            Events{64.5, midsummer, utc(midsummer, 0, 37, 34), utc(midsummer, 22, 5, 45)},
                            Events{-64.5, may, utc(may, 7, 31, 59), utc(may, 15, 0, 41)}}) {
    const auto events = sun_events(day.date, {.latitude_deg = day.latitude, .longitude_deg = 10}, 0);
    ASSERT_TRUE(events.sunrise && events.sunset);
    EXPECT_LE(std::abs((*events.sunrise - day.sunrise).count()), 6) << day.latitude << " " << to_iso(day.date);
    EXPECT_LE(std::abs((*events.sunset - day.sunset).count()), 6) << day.latitude << " " << to_iso(day.date);
  }
}

// Covers  noon falls on the local date everywhere, also where the clock is half a day from Greenwich or two hours from
//         the sun; sunrise comes before and sunset after it, and consecutive days follow each other.
TEST(Sun, HasItsNoonOnTheLocalDate) {
  struct Place {
    double latitude, longitude, offset;
  };
  for (const Place& place : {Place{-13.8, -171.8, 13}, Place{-44, -176.5, 12.75}, Place{39.5, 76, 8},
                             Place{52, -176, -9}, Place{0, 179.9, -12}, Place{0, -179.9, 14}}) {
    const Site site{.latitude_deg = place.latitude, .longitude_deg = place.longitude, .elevation_m = 0};
    Instant last{};
    for (int day = 0; day < 370; ++day) {
      const Date date = make_date(2026, 1, 1) + Days{day};
      const auto events = sun_events(date, site, place.offset);
      const double noon = local_hours(events.noon, date, place.offset);
      EXPECT_GT(noon, 0) << place.longitude;
      EXPECT_LT(noon, 24) << place.longitude;
      EXPECT_LT(*events.sunrise, events.noon);
      EXPECT_GT(*events.sunset, events.noon);
      if (day > 0) {
        EXPECT_NEAR(static_cast<double>((events.noon - last).count()), 86400, 60);
      }
      last = events.noon;
    }
  }
}

TEST(Sun, KnowsPolarDayAndNight) {
  const auto night = sun_events(make_date(2026, 12, 21), kTromso, 1);
  EXPECT_EQ(night.state, SunState::polar_night);
  EXPECT_EQ(night.day_length_h, 0);
  EXPECT_FALSE(night.sunrise || night.sunset);
  const auto day = sun_events(make_date(2026, 6, 21), kTromso, 2);
  EXPECT_EQ(day.state, SunState::midnight_sun);
  EXPECT_EQ(day.day_length_h, 24);
  EXPECT_EQ(sun_events(make_date(2026, 6, 21), {.latitude_deg = -69.65}, 0).state, SunState::polar_night);
  for (const double pole : {-90.0, 90.0}) {
    for (int d = 1; d <= 366; ++d) EXPECT_TRUE(std::isfinite(day_length_h(pole, d)));
    const auto june = sun_events(make_date(2026, 6, 21), {.latitude_deg = pole}, 0);
    EXPECT_EQ(june.state, pole > 0 ? SunState::midnight_sun : SunState::polar_night);
  }
}

// Covers  a year through the polar circle: the state only changes through short days or short nights, never NaN.
TEST(Sun, PassesThroughThePolarStatesInOrder) {
  double last = sun_events(make_date(2025, 12, 31), kTromso, 1).day_length_h;
  for (int d = 0; d < 365; ++d) {
    const auto events = sun_events(make_date(2026, 1, 1) + Days{d}, kTromso, 1);
    EXPECT_GE(events.day_length_h, 0);
    EXPECT_LE(events.day_length_h, 24);
    EXPECT_LT(std::abs(events.day_length_h - last), 2.6) << d;  // Tromso's longest step, the day the sun comes back
    last = events.day_length_h;
  }
}

// Covers  the year-less day length against the almanac; the bounds are the accuracy that docs/methods/sun.md states.
TEST(Sun, DayLengthFormulaIsAsGoodAsSaid) {
  const auto worst_minutes = [](double latitude_deg) {
    double worst = 0;
    for (int d = 0; d < 4 * 365; ++d) {
      const Date date = make_date(2024, 1, 1) + Days{d};
      const auto almanac = sun_events(date, {.latitude_deg = latitude_deg}, 0);
      worst = std::max(worst, 60 * std::abs(almanac.day_length_h - day_length_h(latitude_deg, day_of_year(date))));
    }
    return worst;
  };
  for (const double latitude : {-40.0, -20.0, 0.0, 20.0, 40.0}) EXPECT_LT(worst_minutes(latitude), 4) << latitude;
  for (const double latitude : {-60.0, -50.0, 50.0, 60.0}) EXPECT_LT(worst_minutes(latitude), 8) << latitude;
}

TEST(Sun, RadiationFollowsTheSeasonOfTheHemisphere) {
  EXPECT_GT(extraterrestrial_mj_m2(45, 172), 3 * extraterrestrial_mj_m2(45, 355));
  EXPECT_GT(extraterrestrial_mj_m2(-45, 355), 3 * extraterrestrial_mj_m2(-45, 172));
  EXPECT_EQ(extraterrestrial_mj_m2(80, 355), 0);
  EXPECT_NEAR(sunshine_at_most_h(80, 172), 24, 1e-9);
  EXPECT_EQ(sunshine_at_most_h(80, 355), 0);
  EXPECT_EQ(radiation_from_sunshine_mj_m2(0, 80, 355), 0);
}

// Covers  hours of extraterrestrial radiation add up to the day, polar states included.  Tol  rounding.
TEST(Sun, HoursOfRadiationAddUpToTheDay) {
  for (const double latitude : {-75.0, -30.0, 0.0, 47.6, 69.6, 90.0}) {
    for (int d = 10; d <= 365; d += 40) {
      double sum = 0;
      for (int h = 0; h < 24; ++h) sum += extraterrestrial_mj_m2(latitude, d, h + 0.5, 1);
      EXPECT_NEAR(sum, extraterrestrial_mj_m2(latitude, d), 1e-9);
    }
  }
}

// Covers  hourly shares close to one, are even about noon, and are none in polar night.
TEST(Sun, HourlySharesCloseTheDay) {
  for (const double latitude : {-60.0, -30.0, 0.0, 47.6, 65.0, 80.0}) {
    for (int d = 5; d <= 366; d += 19) {
      const auto shares = hourly_light_shares(latitude, d);
      const double sum = std::accumulate(shares.begin(), shares.end(), 0.0);
      EXPECT_NEAR(sum, extraterrestrial_mj_m2(latitude, d) > 0 ? 1 : 0, 1e-9) << latitude << " day " << d;
      for (std::size_t h = 0; h < 12; ++h) {
        EXPECT_NEAR(shares[h], shares[23 - h], 1e-12);
        EXPECT_GE(shares[h], 0);
      }
    }
  }
}

// Covers  at the pole the sun goes round at one height, so all hours have the same light; from the last night to the
// first
//         midnight sun nothing jumps.
TEST(Sun, HourlySharesUnderTheMidnightSun) {
  for (const double latitude : {90.0, -90.0}) {
    const auto shares = hourly_light_shares(latitude, latitude > 0 ? 172 : 355);
    for (const double share : shares) EXPECT_NEAR(share, 1 / 24.0, 1e-9);
  }
  const double first = 90 - declination_rad(172) * 180 / kPi;  // of latitude at which the sun stays up
  const auto before = hourly_light_shares(first - 1e-5, 172);
  const auto after = hourly_light_shares(first + 1e-5, 172);
  for (std::size_t h = 0; h < 24; ++h) EXPECT_NEAR(before[h], after[h], 1e-4) << h;
  double noon = after[12];
  for (double latitude = first + 1; latitude < 90; ++latitude) {
    EXPECT_LT(hourly_light_shares(latitude, 172)[12], noon) << latitude;
    noon = hourly_light_shares(latitude, 172)[12];
  }
}

// Ref  Duffie & Beckman, Solar Engineering of Thermal Processes, section 2.13 (from memory): Melbourne, 17 January, 8-9
// h.
TEST(Sun, HourlyShareMatchesTheTextbookExample) {
  EXPECT_NEAR(hourly_light_share((8.5 - 12) * kPi / 12, sunset_angle_rad(-38, 17)), 0.076, 0.001);
}

TEST(Sun, ClearSkyIsDarkAtNight) {
  EXPECT_EQ(clear_sky_w_m2(90), 0);
  EXPECT_EQ(clear_sky_w_m2(120), 0);
  EXPECT_NEAR(clear_sky_w_m2(0), 1035.1, 0.2);  // Haurwitz 1945, constants as widely published
  EXPECT_GT(clear_sky_w_m2(30), clear_sky_w_m2(60));
}

// Ref  definition: 1 micromol/m2/s for 24 h is 0.0864 mol/m2.
TEST(Sun, LightAddsUpOverTheDay) {
  EXPECT_NEAR(daily_light_of_lamp_mol_m2(1, 24), 0.0864, 1e-9);
  EXPECT_NEAR(daily_light_mol_m2(1), 2.0565, 1e-9);
}

}  // namespace
}  // namespace strikebed::climate
