// What a plan needs from the mixes: materials by the geometry of the pots, stock by dilution, fillings shared.
#include "season/needs.hpp"

#include <gtest/gtest.h>

#include <numbers>

#include "tests/season/example_goals.hpp"

namespace strikebed::season {
namespace {

ProfileValue exactly_so(double value) { return {{value, value, value}, "", "a test", Trust::C}; }

mix::Material one_size(const char* name, double low_mm, double high_mm) {
  mix::Material material;
  material.id = material.name = material.kind = name;
  material.grains = {low_mm, high_mm};
  material.bulk_density_kg_l = exactly_so(1.5);
  material.porosity = exactly_so(0.42);
  material.inside_water = exactly_so(0);
  material.n = exactly_so(6);
  material.residual = exactly_so(0.07);
  return material;
}

/// 9 cm cubes filled to 8 cm, a hole of 1.5 x 3 cm for each of four cuttings.
mix::MediumRequest cubes(const mix::Material& sand) {
  mix::MediumRequest request;
  request.recipe = {{1, one_size("grit", 3, 4)}};
  request.container = {mix::CrossSection::square, 9, 9, 9, 8};
  request.pockets = mix::PocketPlan{sand, {1.5, 3}, 4};
  request.reading_cm = 0;
  return request;
}

mix::SolutionRequest filling_from_one_percent() {
  mix::SolutionRequest request;
  auto stock = mix::parse_stock("1 % IBA", *mix::parse_solvent("alcohol", ""), "");
  EXPECT_TRUE(stock.ok());
  request.stock = *stock;
  request.target = mix::AuxinTarget{.auxin = std::nullopt,
                                    .mmol = mix::mm_from_ppm(650, mix::auxin_of(mix::Acid::iba)),
                                    .number = 650,
                                    .unit = "ppm"};
  request.bath = mix::Bath{mix::Filling::made_up_to, {50, 0}, "50 mL", false};
  return request;
}

struct Case {
  Goal goal;
  Plan plan;
};
/// 10 and 30 cuttings to be ready for, in two sessions.
Case two_wants() {
  Case asked{weekend_goal({5, 15}), {}};
  for (Want& want : asked.goal.wants) {
    want.set_in = cubes(one_size("coarse sand", 0.8, 1.2));
    want.dip = filling_from_one_percent();
  }
  asked.plan.seeds = 100;
  asked.plan.needs.wants.resize(2);
  asked.plan.needs.wants[0].cuttings = 10;
  asked.plan.needs.wants[1].cuttings = 30;
  asked.plan.sow_dates = {asked.goal.today};
  asked.plan.sessions = {{asked.goal.today, {}, {5, 15}, 0}, {asked.goal.today + Days{7}, {}, {5, 15}, 0}};
  return asked;
}

}  // namespace

// Covers  materials of all wants together. Ref  geometry: 3 + 8 cubes of 9 x 9 x 8 cm less four holes each, 5 % more
// for spills, one size of grains, so no shrinkage. Tolerance  1e-9 for the sand; 1 % for the grit, whose grains cannot
// fill corners of a draw's pot.
TEST(Needs, MaterialsFollowFromThePots) {
  Case asked = two_wants();
  fill_needs(asked.goal, asked.plan);
  const Needs& needs = asked.plan.needs;
  EXPECT_EQ(needs.containers, 3 + 8);
  const double hole_l = std::numbers::pi / 4 * 1.5 * 1.5 * 3 / 1000;
  const double sand_l = 11 * 4 * hole_l * 1.05;
  const double grit_l = 11 * (0.648 - 4 * hole_l) * 1.05;
  ASSERT_EQ(needs.materials.size(), 2U);
  EXPECT_EQ(needs.materials[0].name, "grit");
  EXPECT_NEAR(needs.materials[0].litres, grit_l, 0.01 * grit_l);
  EXPECT_NEAR(needs.materials[0].dry_kg, needs.materials[0].litres * 1.5, 1e-9);
  EXPECT_FALSE(needs.materials[0].in_pockets);
  EXPECT_NEAR(needs.materials[1].litres, sand_l, 1e-9);
  EXPECT_TRUE(needs.materials[1].in_pockets);
  EXPECT_NEAR(needs.sand_litres, sand_l, 1e-9);
  EXPECT_NEAR(needs.medium_litres, grit_l, 1e-9);
  EXPECT_NEAR(needs.wants[0].container_litres, 0.648, 1e-9);
  EXPECT_TRUE(asked.plan.remarks.empty());
}

// Covers  what sieving takes is bought as well. Ref  a fifth lost: a quarter more.
TEST(Needs, WhatSievingTakesIsBoughtMore) {
  Case asked = two_wants();
  fill_needs(asked.goal, asked.plan);
  const double sieved = asked.plan.needs.materials[0].litres;
  asked = two_wants();
  for (Want& want : asked.goal.wants) want.set_in.recipe[0].lost = 0.2;
  fill_needs(asked.goal, asked.plan);
  EXPECT_NEAR(asked.plan.needs.materials[0].litres, 1.25 * sieved, 1e-9);
}

// Covers  wants that are dipped alike share a filling: one each session, or as many as the cuttings take. Ref  40
// cuttings at 40 a filling are one, but two sessions need two; 650 ppm in 50 mL from 10 g/L is 3.25 mL.
TEST(Needs, FillingsAreSharedAndFreshForEachSession) {
  Case asked = two_wants();
  fill_needs(asked.goal, asked.plan);
  const Needs& needs = asked.plan.needs;
  ASSERT_EQ(needs.dips.size(), 1U);
  EXPECT_EQ(needs.dips[0].fillings, 2);
  EXPECT_DOUBLE_EQ(needs.solution_ml, 100);
  ASSERT_TRUE(needs.dips[0].stock.has_value());
  EXPECT_NEAR(needs.dips[0].stock->per_fill, 3.25, 1e-6);
  EXPECT_EQ(needs.dips[0].stock->unit, StockUnit::ml);
  EXPECT_GT(needs.dips[0].stock->drops_per_fill, 3.25 * 45);
  EXPECT_LT(needs.dips[0].stock->drops_per_fill, 3.25 * 55);
}

// Covers  another strength is another solution; without a stock none is named.
TEST(Needs, AnotherStrengthIsAnotherSolution) {
  Case asked = two_wants();
  asked.goal.wants[1].method.auxin_ppm.quantity = {300, 300, 300};
  asked.goal.wants[1].dip.reset();
  fill_needs(asked.goal, asked.plan);
  ASSERT_EQ(asked.plan.needs.dips.size(), 2U);
  EXPECT_TRUE(asked.plan.needs.dips[0].stock.has_value());
  EXPECT_FALSE(asked.plan.needs.dips[1].stock.has_value());
  EXPECT_DOUBLE_EQ(asked.plan.needs.solution_ml, 200);
}

// Covers  sand too fine for the medium is said in the plan, once for each method.
TEST(Needs, WarnsOfSandThatWashesAway) {
  Case asked = two_wants();
  asked.goal.wants[0].set_in = cubes(one_size("fine sand", 0.1, 0.25));
  fill_needs(asked.goal, asked.plan);
  ASSERT_EQ(asked.plan.remarks.size(), 1U);
  EXPECT_EQ(asked.plan.remarks[0].kind, RemarkKind::loose_pocket);
  EXPECT_EQ(asked.plan.remarks[0].want, 0U);
}

}  // namespace strikebed::season
