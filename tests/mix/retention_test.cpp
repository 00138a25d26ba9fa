// Water and air in drained pots: what must hold whatever the numbers. Published numbers stand in
// tests/reference/retention.json.
#include "mix/retention.hpp"

#include <gtest/gtest.h>

#include "mix/pocket.hpp"

namespace strikebed::mix {
namespace {

PoreSpace grit(double d50_mm) { return {{0.42, 0.03, draining_alpha_per_cm(d50_mm), kUniformN}}; }

double air_of_column(const PoreSpace& pores, double height_cm) {
  return porosity(pores) - column_capacity(pores, height_cm);
}

// Covers: air rises with the height of the pot and with the size of the grains.
TEST(Retention, AirRisesWithHeightAndGrainSize) {
  for (const double size : {0.3, 1.0, 2.0, 3.5}) {
    double before = -1;
    for (const double height : {2.0, 5.0, 8.0, 12.0, 20.0, 40.0}) {
      const double air = air_of_column(grit(size), height);
      EXPECT_GE(air, before) << size << " mm, " << height << " cm";
      EXPECT_LE(air_of_column(grit(size), height), air_of_column(grit(1.3 * size), height));
      before = air;
    }
  }
}

// Covers: full at no suction, residual at a large one, never in between out of bounds.
TEST(Retention, RunsFromFullToResidual) {
  const PoreSpace two{{0.20, 0.02, 0.5, 6}, {0.15, 0.03, 0.05, 3}};
  EXPECT_DOUBLE_EQ(water_at(two, 0), 0.35);
  EXPECT_DOUBLE_EQ(water_at(two, -3), 0.35);
  EXPECT_NEAR(water_at(two, 1e5), 0.05, 1e-6);
  for (double h = 0; h < 100; h += 0.5) EXPECT_GE(water_at(two, h), water_at(two, h + 0.5));
}

// Covers: the pores of a mix add up; kinds that are the same are one kind. Tolerance: rounding.
TEST(Retention, KindsOfPoresAddUp) {
  const PoreSpace one{{0.40, 0.04, 0.3, 5}};
  const PoreSpace split{{0.10, 0.01, 0.3, 5}, {0.30, 0.03, 0.3, 5}};
  EXPECT_NEAR(column_capacity(one, 9), column_capacity(split, 9), 1e-12);
}

// Covers: the wet zone is where air reaches a tenth, and the fill height when it never does.
TEST(Retention, WetZoneEndsWhereATenthIsAir) {
  const double zone = wet_zone_cm(grit(3.5), 9, kLeastAir);
  EXPECT_GT(zone, 1);
  EXPECT_LT(zone, 3);
  EXPECT_NEAR(0.42 - water_at(grit(3.5), zone), kLeastAir, 1e-9);
  EXPECT_DOUBLE_EQ(wet_zone_cm(grit(0.15), 9, kLeastAir), 9);
}

// Covers: the integral at its corners: curves with a knee far below the pot's height, and ones that hardly bend.
// Ref     the closed form, h 2F1(1 - 1/n, 1/n; 1 + 1/n; -(alpha h)^n), with mpmath 1.2 in 30 digits.
// Tol     1e-7 of it, as the header says.
TEST(Retention, TheIntegralIsAsExactAsSaid) {
  struct Column {
    double alpha_per_cm, n, height_cm, capacity;
  };
  for (const Column& column : {
           Column{0.0001, 1.05, 60, 0.419957980346692},
           Column{0.145, 2.68, 13.5, 0.289981557556503},
           Column{8, 6, 60, 0.0309042415480455},
           Column{8, 9, 60, 0.0308496459672564},
           Column{13, 9, 60, 0.0305228590567732},
           Column{1000, 1.05, 60, 0.266825797915569},
           Column{1000, 2.68, 60, 0.0300144122704982},
           Column{1000, 6, 13.5, 0.0300321508105973},
           Column{1000, 9, 1, 0.0304078300642831},
           Column{1000, 9, 60, 0.0300067971677381},
       }) {
    const double found = column_capacity({{0.42, 0.03, column.alpha_per_cm, column.n}}, column.height_cm);
    EXPECT_NEAR(found / column.capacity, 1, 1e-7)
        << "alpha " << column.alpha_per_cm << " n " << column.n << " height " << column.height_cm;
  }
}

// Covers: the rule for the visible rise against what was measured, classes by their middle size.
// Ref     Atterberg, in Lohman 1972, USGS Prof. Paper 708, from memory (2-5, 1-2, 0.5-1, 0.2-0.5, 0.1-0.2, 0.05-0.1
// mm);
//         Heath 1982, Basic Ground-Water Hydrology (0.5-1, 0.25-0.5, 0.125-0.25 mm), and a glass column of 0.45-0.55
//         mm, both as in Salim & Hampton 2012, SSSA annual meeting, paper 263-4.
// Tol     a factor of 1.45, as the header says; the rule is a rule of thumb, and in fine sand it promises too much.
TEST(Retention, VisibleRiseIsNearWhatWasMeasured) {
  const std::vector<std::pair<double, double>> size_mm_and_rise_cm{
      {3.5, 2.5},     {1.5, 6.5},   {0.75, 13.5}, {0.35, 24.6}, {0.15, 42.8},
      {0.075, 105.5}, {0.75, 12.5}, {0.375, 25},  {0.1875, 40}, {0.5, 19.5}};
  for (const auto& [size, rise] : size_mm_and_rise_cm) {
    EXPECT_LT(visible_rise_cm(size) / rise, 1.45) << size;
    EXPECT_GT(visible_rise_cm(size) / rise, 1 / 1.45) << size;
  }
}

// Covers: alpha found from the air it gives; none where no alpha gives that air. Tolerance: the quadrature's 1e-7.
TEST(Retention, AlphaIsFoundFromTheAir) {
  for (const double alpha : {0.02, 0.2, 0.455, 2.0}) {
    const double air = air_of_column({{0.5, 0.05, alpha, 3}}, 12);
    const auto found = alpha_for_air(0.5, 0.05, 3, 12, air);
    ASSERT_TRUE(found.has_value());
    EXPECT_NEAR(*found / alpha, 1, 1e-4);
  }
  EXPECT_FALSE(alpha_for_air(0.5, 0.05, 3, 12, 0.46).has_value());
  EXPECT_FALSE(alpha_for_air(0.5, 0.05, 3, 12, 0).has_value());
}

// Covers: a sand pocket over grit drains no further however tall the pot; in a shallow pot the height decides.
TEST(Pocket, SuctionIsLimitedByTheCoarseMedium) {
  const double limit = half_drained_suction_cm(grit(3.5));
  EXPECT_DOUBLE_EQ(foot_suction_cm(grit(3.5), 1), 1);
  EXPECT_DOUBLE_EQ(foot_suction_cm(grit(3.5), 10), limit);
  EXPECT_DOUBLE_EQ(foot_suction_cm(grit(3.5), 30), limit);
  EXPECT_GT(half_drained_suction_cm(grit(1)), limit);
}

TEST(Pocket, WaterAndAirFillItsPores) {
  const Container pot{CrossSection::round, 8, 9, 9, 8};
  const Pocket hole{2, 4};
  const PocketWater wet = drained_pocket(grit(1), grit(3.5), hole, pot, 2);
  EXPECT_NEAR(wet.water + wet.air, 0.42, 1e-12);
  EXPECT_NEAR(wet.water_at_stem + wet.air_at_stem, 0.42, 1e-12);
  EXPECT_NEAR(wet.water_ml, wet.water * pocket_volume(hole), 1e-12);
}

std::string complaint(const Pocket& pocket, double stem_cm) {
  const auto result = checked(pocket, {CrossSection::round, 8, 9, 9, 8}, stem_cm);
  return result ? "" : result.error().message();
}

TEST(Pocket, RefusesAHoleThatDoesNotFit) {
  EXPECT_EQ(complaint({1.5, 3}, 1.5), "");
  EXPECT_EQ(complaint({12, 3}, 1.5),
            "pocket.width_cm: found 12 cm; allowed: above 0, at most the surface of the medium, 8.89 cm");
  EXPECT_EQ(complaint({1.5, 9}, 1.5),
            "pocket.depth_cm: found 9 cm; allowed: above 0, at most the depth of the medium, 8 cm");
  EXPECT_EQ(complaint({1.5, 3}, 4),
            "stem_depth_cm: found 4 cm; allowed: 0 or more, at most the depth of the pocket, 3 cm");
}

}  // namespace
}  // namespace strikebed::mix
