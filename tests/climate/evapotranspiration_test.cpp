#include "climate/evapotranspiration.hpp"

#include <gtest/gtest.h>

#include "climate/humid_air.hpp"
#include "climate/sun.hpp"

namespace strikebed::climate {
namespace {

// Ref  FAO-56 example 18 (Uccle, 6 July), every printed step.  Tol  0.012: half of the last printed digit, and the
// printed
//      inputs' own rounding.
TEST(Evapotranspiration, FollowsTheDailyExampleStepByStep) {
  const double wind = wind_at_2m_m_s(10 / 3.6, 10);
  EXPECT_NEAR(wind, 2.078, 0.012);
  const Evaporation e =
      reference_evaporation(EvaporationDay{.latitude_deg = 50.8,
                                           .elevation_m = 100,
                                           .day_of_year = 187,
                                           .tmin_c = 12.3,
                                           .tmax_c = 21.5,
                                           .vapour_kpa = vapour_from_extremes_kpa(12.3, 21.5, 84, 63),
                                           .wind_2m_m_s = wind,
                                           .radiation_mj_m2 = radiation_from_sunshine_mj_m2(9.25, 50.8, 187)});
  EXPECT_NEAR(e.extraterrestrial_mj_m2, 41.09, 0.012);
  EXPECT_NEAR(e.clear_sky_mj_m2, 30.9, 0.012);
  EXPECT_NEAR(e.net_short_mj_m2, 17.0, 0.012);
  EXPECT_NEAR(e.net_long_mj_m2, 3.71, 0.012);
  EXPECT_NEAR(e.net_mj_m2, 13.28, 0.012);
  EXPECT_NEAR(e.saturation_kpa, 1.997, 0.012);
  EXPECT_NEAR(e.reference_mm, 3.88, 0.012);
}

// Ref  FAO-56 example 17 (Bangkok, April): with the month's ground heat.
TEST(Evapotranspiration, FollowsTheMonthlyExample) {
  const Evaporation e =
      reference_evaporation(EvaporationDay{.latitude_deg = 13.73333,
                                           .elevation_m = 2,
                                           .day_of_year = 105,
                                           .tmin_c = 25.6,
                                           .tmax_c = 34.8,
                                           .vapour_kpa = 2.85,
                                           .wind_2m_m_s = 2,
                                           .radiation_mj_m2 = radiation_from_sunshine_mj_m2(8.5, 13.73333, 105),
                                           .ground_heat_mj_m2 = ground_heat_of_month_mj_m2(30.2, 29.2)});
  EXPECT_NEAR(e.ground_heat_mj_m2, 0.14, 1e-9);
  EXPECT_NEAR(e.net_long_mj_m2, 3.11, 0.012);
  EXPECT_NEAR(e.reference_mm, 5.72, 0.012);
}

// Ref  FAO-56 example 19 (N'Diaye, 1 October, 14-15 h).
TEST(Evapotranspiration, FollowsTheHourlyExample) {
  const Evaporation e = reference_evaporation(EvaporationHour{.latitude_deg = 16 + 13 / 60.0,
                                                              .elevation_m = 8,
                                                              .day_of_year = 274,
                                                              .solar_hour = solar_time_h(14.5, -16.25, -15, 274),
                                                              .temperature_c = 38,
                                                              .vapour_kpa = vapour_kpa(38, 52),
                                                              .wind_2m_m_s = 3.3,
                                                              .radiation_mj_m2 = 2.45,
                                                              .clear_share = {}});
  EXPECT_NEAR(e.extraterrestrial_mj_m2, 3.543, 0.004);
  EXPECT_NEAR(e.clear_sky_mj_m2, 2.658, 0.004);
  EXPECT_NEAR(e.net_long_mj_m2, 0.137, 0.004);
  EXPECT_NEAR(e.net_mj_m2, 1.749, 0.004);
  EXPECT_NEAR(e.ground_heat_mj_m2, 0.175, 0.004);
  EXPECT_NEAR(e.reference_mm, 0.63, 0.004);
}

// Ref  ASCE-EWRI 2005, appendix C, Greeley, hour ending 11.  Tol  0.011 mm: printed to 0.01.
TEST(Evapotranspiration, FollowsTheOtherHourlyStandard) {
  const Evaporation e = reference_evaporation(EvaporationHour{.latitude_deg = 40.4107,
                                                              .elevation_m = 1462.4,
                                                              .day_of_year = 184,
                                                              .solar_hour = solar_time_h(10.5, -105, -105, 184),
                                                              .temperature_c = 29.8,
                                                              .vapour_kpa = 1.03,
                                                              .wind_2m_m_s = 1.81,
                                                              .radiation_mj_m2 = 3.25,
                                                              .clear_share = {}},
                                              HourlyForm::asce_2005);
  EXPECT_NEAR(e.reference_mm, 0.72, 0.011);
}

// Covers  more sun, wind (in dry air), dryness and warmth never lower it; it is never negative.
TEST(Evapotranspiration, RisesWithSunWindAndDryness) {
  const EvaporationDay base{.latitude_deg = 47.6,
                            .elevation_m = 20,
                            .day_of_year = 172,
                            .tmin_c = 11,
                            .tmax_c = 23,
                            .vapour_kpa = 1.3,
                            .wind_2m_m_s = 2,
                            .radiation_mj_m2 = 18};
  const double mm = reference_evaporation(base).reference_mm;
  EvaporationDay other = base;
  other.radiation_mj_m2 = 24;
  EXPECT_GT(reference_evaporation(other).reference_mm, mm);
  other = base;
  other.wind_2m_m_s = 4;
  EXPECT_GT(reference_evaporation(other).reference_mm, mm);
  other = base;
  other.vapour_kpa = 0.9;
  EXPECT_GT(reference_evaporation(other).reference_mm, mm);
  other = base;
  other.tmax_c = 28;
  EXPECT_GT(reference_evaporation(other).reference_mm, mm);
  const EvaporationDay polar_night{.latitude_deg = 75,
                                   .elevation_m = 0,
                                   .day_of_year = 355,
                                   .tmin_c = -20,
                                   .tmax_c = -15,
                                   .vapour_kpa = 0.12,
                                   .wind_2m_m_s = 0,
                                   .radiation_mj_m2 = 0};
  EXPECT_EQ(reference_evaporation(polar_night).reference_mm, 0);
}

// Covers  a day with next to no sun: the sky takes a little from the ground, and never warms it.
// Ref     FAO-56 by hand, with the cloud factor's floor of 0.05 (ASCE-EWRI 2005, equation 18); 0.49 mm without it.
TEST(Evapotranspiration, DarkDaysLoseHeatToTheSky) {
  EvaporationDay dark{.latitude_deg = 50,
                      .elevation_m = 0,
                      .day_of_year = 355,
                      .tmin_c = 2,
                      .tmax_c = 6,
                      .vapour_kpa = 0.70,
                      .wind_2m_m_s = 1,
                      .radiation_mj_m2 = 0.4};
  EXPECT_NEAR(reference_evaporation(dark).net_long_mj_m2, 0.3225, 0.0005);
  EXPECT_NEAR(reference_evaporation(dark).reference_mm, 0.176, 0.001);
  const double with_some_sun = reference_evaporation(dark).reference_mm;
  for (dark.radiation_mj_m2 = 0; dark.radiation_mj_m2 < 8; dark.radiation_mj_m2 += 0.2)
    EXPECT_GT(reference_evaporation(dark).net_long_mj_m2, 0) << dark.radiation_mj_m2;
  dark.radiation_mj_m2 = 0;
  EXPECT_LT(reference_evaporation(dark).reference_mm, with_some_sun);

  EvaporationHour hour{.latitude_deg = 50,
                       .elevation_m = 0,
                       .day_of_year = 355,
                       .solar_hour = 12,
                       .temperature_c = 4,
                       .vapour_kpa = 0.7,
                       .wind_2m_m_s = 1,
                       .radiation_mj_m2 = 0.05,
                       .clear_share = {}};
  for (const HourlyForm form : {HourlyForm::fao_1998, HourlyForm::asce_2005})
    EXPECT_GT(reference_evaporation(hour, form).net_long_mj_m2, 0);
}

// Covers  a night hour without a known evening gives a small, finite number.
TEST(Evapotranspiration, IsSmallAtNight) {
  const EvaporationHour night{.latitude_deg = 47.6,
                              .elevation_m = 20,
                              .day_of_year = 172,
                              .solar_hour = 1,
                              .temperature_c = 12,
                              .vapour_kpa = 1.2,
                              .wind_2m_m_s = 1,
                              .radiation_mj_m2 = 0,
                              .clear_share = {}};
  for (const HourlyForm form : {HourlyForm::fao_1998, HourlyForm::asce_2005}) {
    EXPECT_GE(reference_evaporation(night, form).reference_mm, 0);
    EXPECT_LT(reference_evaporation(night, form).reference_mm, 0.05);
  }
}

TEST(Evapotranspiration, RadiationFromTheRangeIsCappedByTheClearSky) {
  EXPECT_NEAR(radiation_from_range_mj_m2(14.8, 26.6, 45.72, 196, 0, kHargreavesInland), 22.3,
              0.06);  // FAO-56 example 15
  const double most = clear_sky_mj_m2(extraterrestrial_mj_m2(45.72, 196), 0);
  EXPECT_NEAR(radiation_from_range_mj_m2(-10, 40, 45.72, 196, 0, kHargreavesInland), most, 1e-9);
  EXPECT_EQ(radiation_from_range_mj_m2(10, 10, 45.72, 196, 0, kHargreavesInland), 0);
}

// Ref  Chow, Maidment & Mays 1988, examples 3.5.1-3.5.4 (from memory).  Tol  0.05 mm: printed to 0.1 or 0.01.
TEST(Evapotranspiration, OfOpenWaterFollowsTheTextbook) {
  const auto e = wet_surface_evaporation(
      {.net_radiation_w_m2 = 200, .temperature_c = 25, .humidity_pct = 40, .wind_2m_m_s = 3, .roughness_m = 0.0003});
  EXPECT_NEAR(e.by_energy_mm, 7.1, 0.05);
  EXPECT_NEAR(e.by_wind_mm, 7.45, 0.05);
  EXPECT_NEAR(e.combined_mm, 7.2, 0.05);
  EXPECT_NEAR(e.priestley_taylor_mm, 6.8, 0.05);
  EXPECT_NEAR(temperature_only_evaporation_mm(14.8, 26.6, 45.71667, 196), 5.0, 0.06);  // FAO-56 example 20
}

}  // namespace
}  // namespace strikebed::climate
