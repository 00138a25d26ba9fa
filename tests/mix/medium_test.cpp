// A whole medium: what is bought fills the pots, mass is conserved, ranges hold their value, jar tests replace
// estimates.
#include "mix/medium.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "mix/jar_test.hpp"

namespace strikebed::mix {
namespace {

ProfileValue between(double low, double value, double high) { return {{value, low, high}, "", "a test", Trust::C}; }

Material grains(double low_mm, double high_mm) {
  Material material;
  material.id = material.name = material.kind = "grains";
  material.grains = {low_mm, high_mm};
  material.bulk_density_kg_l = between(1.4, 1.5, 1.6);
  material.porosity = between(0.40, 0.42, 0.45);
  material.inside_water = between(0, 0, 0);
  material.n = between(4, 6, 9);
  material.residual = between(0.04, 0.07, 0.12);
  material.dust = Dust::silica;
  return material;
}

MediumRequest request(std::vector<Part> recipe) {
  MediumRequest asked;
  asked.recipe = std::move(recipe);
  asked.container = {CrossSection::round, 8, 9, 9, 8};
  asked.containers = 48;
  return asked;
}

MediumAnswer answer_of(const MediumRequest& asked) {
  const auto answer = make_medium(asked);
  EXPECT_TRUE(answer.ok()) << (answer.ok() ? "" : answer.error().message());
  return answer.ok() ? *answer : MediumAnswer{};
}

// Covers: what is measured makes enough for all pots, in the order of the range too; it is a whole number of jugs.
TEST(Medium, WhatIsMeasuredFillsThePots) {
  const MediumAnswer answer = answer_of(request({{2, grains(3, 4)}, {1, grains(0.5, 1)}}));
  EXPECT_GE(answer.containers_filled.value, 48);
  EXPECT_GT(answer.shrinkage.value, 0.05);
  double measured = 0;
  for (const Bought& one : answer.buy) {
    EXPECT_GE(one.measured_l, one.loose_l.high - 1e-9);
    EXPECT_NEAR(one.measured_l / 0.5, std::round(one.measured_l / 0.5), 1e-9);
    measured += one.measured_l;
  }
  EXPECT_NEAR(answer.obtained_l.value, measured * (1 - answer.shrinkage.value), 1e-9);
}

// Covers: mass is conserved from the bags to the pots. Tolerance: rounding.
TEST(Medium, MassIsConserved) {
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(0.5, 1)}});
  asked.spare = 0;
  const MediumAnswer answer = answer_of(asked);
  double dry = 0;
  for (const Bought& one : answer.buy) dry += one.loose_l.value * 1.5;
  EXPECT_NEAR(answer.dry_kg.value * asked.containers, dry, 1e-9);
  const double pot_l = answer.medium_l / asked.containers;
  EXPECT_NEAR(answer.full_kg.value, answer.dry_kg.value + pot_l * answer.porosity.value, 1e-9);
  EXPECT_NEAR(answer.drained_kg.value, answer.full_kg.value - pot_l * answer.air.value, 1e-9);
}

// Covers: every range holds its value; water and air are the pores, at every height.
TEST(Medium, RangesHoldTheirValues) {
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(2, 4)}});
  asked.pockets = PocketPlan{grains(0.5, 1), {1.5, 3}, 4};
  const MediumAnswer answer = answer_of(asked);
  for (const Estimate& e :
       {answer.shrinkage, answer.porosity, answer.capacity, answer.air, answer.wet_zone_cm, answer.dry_kg,
        answer.drained_kg, answer.full_kg, answer.reach_ml, answer.pocket->air, answer.pocket->water_ml}) {
    EXPECT_LE(e.low, e.value);
    EXPECT_LE(e.value, e.high);
  }
  EXPECT_LT(answer.air.low, answer.air.high);
  for (const Slice& slice : answer.profile)
    EXPECT_NEAR(slice.water.value + slice.air.value, answer.porosity.value, 1e-9);
}

// Covers: what is known exactly has no range, but for the pots' own.
TEST(Medium, KnownExactlyHasNoRange) {
  Material exact = grains(3, 4);
  for (ProfileValue* value : {&exact.bulk_density_kg_l, &exact.porosity, &exact.n, &exact.residual}) {
    value->quantity.low = value->quantity.high = value->quantity.value;
  }
  exact.alpha_per_cm = between(0.455, 0.455, 0.455);
  MediumRequest asked = request({{1, exact}});
  asked.reading_cm = 0;
  const MediumAnswer answer = answer_of(asked);
  EXPECT_DOUBLE_EQ(answer.air.low, answer.air.high);
  EXPECT_DOUBLE_EQ(answer.buy[0].loose_l.low, answer.buy[0].loose_l.high);
}

// Covers: science of a 3-4 mm grit with a pocket of 0.3 mm sand: it washes in, and a bridge is offered.
TEST(Medium, FineSandWashesIntoCoarseGrit) {
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(2, 4)}});
  asked.pockets = PocketPlan{grains(0.3, 0.3), {1.5, 3}, 1};
  const MediumAnswer answer = answer_of(asked);
  ASSERT_TRUE(answer.pocket.has_value());
  EXPECT_NEAR(answer.d15_mm, 2.9, 0.01);  // by hand: two parts 3-4, one part 2-4 of the same packing
  EXPECT_EQ(answer.pocket->staying, Staying::washes_in);
  EXPECT_TRUE(answer.pocket->bridge.has_value());
  EXPECT_LT(answer.pocket->air.value, 0.001);
}

// Covers: what 48 containers typically take fills 48 again, in L and in kg, and nothing is left.
TEST(MediumReach, IsTheReverseOfWhatIsNeeded) {
  for (const double lost : {0.0, 0.2}) {
    for (const bool by_weight : {false, true}) {
      MediumRequest asked = request({{2, grains(3, 4), lost}, {1, grains(0.5, 1)}});
      const MediumAnswer needed = answer_of(asked);
      for (std::size_t i = 0; i < 2; ++i) {
        const double unsieved_l = needed.buy[i].loose_l.value / (1 - asked.recipe[i].lost);
        asked.stored.push_back({by_weight ? unsieved_l * 1.5 : unsieved_l, by_weight});  // of 1.5 kg/L
      }
      asked.containers = 1;  // not read
      const MediumAnswer filled = answer_of(asked);
      ASSERT_TRUE(filled.reach);
      EXPECT_NEAR(filled.reach->containers.value, 48, 1e-9);
      EXPECT_EQ(filled.asked.containers, 48);
      EXPECT_NEAR(filled.obtained_l.value, needed.medium_l + needed.spare_l, 1e-9);
      for (const Used& one : filled.reach->used) EXPECT_NEAR(one.left_l.value, 0, 1e-9);
      EXPECT_EQ(filled.air.value, needed.air.value);  // the rest of the answer is that of 48 containers
    }
  }
}

// Covers: what there is too much of is left over, as much as it is too much; the other runs out. Mass is conserved.
TEST(MediumReach, LeavesWhatIsTooMuch) {
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(0.5, 1)}, {0, grains(1, 2)}});
  asked.stored = {{20, false}, {13, false}, {5, false}};
  const MediumAnswer filled = answer_of(asked);
  const auto& used = filled.reach->used;
  EXPECT_EQ(filled.reach->runs_out, 0U);
  EXPECT_DOUBLE_EQ(used[0].left_l.value, 0);
  EXPECT_NEAR(used[1].left_l.value, 3, 1e-9);  // 20 L go with 10 L
  EXPECT_NEAR(used[1].left_kg.value, 3 * 1.5, 1e-9);
  EXPECT_DOUBLE_EQ(used[2].left_l.value, 5);  // no part of the mix
  EXPECT_DOUBLE_EQ(used[0].runs_out, 1);      // volumes are known
  EXPECT_NEAR(filled.obtained_l.value, 30 * (1 - filled.shrinkage.value), 1e-9);
  // Sold by weight, 15 kg of 1.4 to 1.6 kg/L are 10 L or so: either may run out, and the chances say so.
  asked.stored[1] = {15, true};
  const Reach unsure = *answer_of(asked).reach;
  EXPECT_NEAR(unsure.used[0].runs_out + unsure.used[1].runs_out, 1, 1e-12);
  EXPECT_NEAR(unsure.used[0].runs_out, 0.5, 0.1);
}

// Anything within the limits is as likely: 5 and 95 % of 18 to 22 are 18.2 and 21.8; tolerance: 256 draws.
TEST(MediumReach, CarriesTheLimitsOfWhatIsThere) {
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(0.5, 1)}});
  asked.stored = {{20, false}, {13, false}};
  const Reach known = *answer_of(asked).reach;
  asked.stored[0].limits = 2;
  const Reach unsure = *answer_of(asked).reach;
  EXPECT_DOUBLE_EQ(known.used[0].there_l.low, 20);
  EXPECT_NEAR(unsure.used[0].there_l.low, 18.2, 0.05);
  EXPECT_NEAR(unsure.used[0].there_l.high, 21.8, 0.05);
  EXPECT_DOUBLE_EQ(unsure.containers.value, known.containers.value);
  EXPECT_LT(unsure.containers.low, known.containers.low);
  EXPECT_GT(unsure.containers.high, known.containers.high);
  asked.stored[0].limits = 20;
  EXPECT_EQ(make_medium(asked).error().message(),
            "stored: found limits of 20 about 20; allowed: limits smaller than the amount");
}

TEST(MediumReach, SaysWhatIsWrong) {
  const auto complaint = [](const MediumRequest& asked) {
    const auto answer = make_medium(asked);
    return answer ? "" : answer.error().message();
  };
  MediumRequest asked = request({{2, grains(3, 4)}, {1, grains(0.5, 1)}});
  asked.stored = {{20, false}};
  EXPECT_EQ(complaint(asked),
            "stored: 1 amounts are given for 2 parts; allowed: one for each part of the recipe, in its order");
  asked.stored = {{20, false}, {0.1, false}};
  // 0.1 L of one part in three: 0.3 L of loose mix, less what shrinks, for 0.45 L and 5 % more.
  EXPECT_EQ(complaint(asked), "stored: what there is of grains fills 0.55 pots; allowed: for 1 to 1000000 pots");
  asked.stored = {{20, false}, {-1, true}};
  EXPECT_EQ(complaint(asked), "stored: found -1 kg; allowed: above 0, at most 1000000");
  asked = request({{1, grains(3, 4), 1}});
  EXPECT_EQ(complaint(asked), "recipe: sieving loses 1 of grains; allowed: a share from 0 to 0.9");
}

// Covers: bags sold by weight are enough for the heaviest lot: 24 L of up to 1.6 kg/L are 38.4 kg.
TEST(Medium, BagsAreCountedByWeightToo) {
  MediumRequest asked = request({{1, grains(3, 4)}});
  asked.bag_kg = 10;
  const Bought one = answer_of(asked).buy[0];
  EXPECT_EQ(one.bags, std::ceil(one.measured_l * 1.6 / 10));
  asked.bag_kg = -1;
  EXPECT_EQ(make_medium(asked).error().message(), "bag_kg: found -1 kg; allowed: above 0, at most 1000000 kg");
}

// Covers: so much more is bought that what stays in the sieve is enough, and the bags are of what is bought.
TEST(Medium, SievingRaisesWhatIsBought) {
  const MediumAnswer plain = answer_of(request({{1, grains(3, 4)}}));
  const MediumAnswer sieved = answer_of(request({{1, grains(3, 4), 0.25}}));
  EXPECT_DOUBLE_EQ(sieved.buy[0].measured_l, plain.buy[0].measured_l);
  EXPECT_DOUBLE_EQ(sieved.buy[0].unsieved_l * 0.75, sieved.buy[0].measured_l);
  EXPECT_EQ(sieved.buy[0].bags, std::ceil(sieved.buy[0].unsieved_l / 20));
  EXPECT_DOUBLE_EQ(plain.buy[0].unsieved_l, plain.buy[0].measured_l);
}

std::string complaint(const MediumRequest& asked) {
  const auto answer = make_medium(asked);
  return answer ? "" : answer.error().message();
}

TEST(Medium, SaysWhatIsWrong) {
  MediumRequest asked = request({{0, grains(3, 4)}});
  EXPECT_EQ(complaint(asked), "the recipe sums to nothing; allowed: at least one part above 0");
  asked = request({{1, grains(4, 3)}});
  EXPECT_EQ(complaint(asked),
            "recipe: grains: the grain range 4-3 mm is reversed; allowed: the smaller size first: 3-4 mm");
  asked = request({{1, grains(3, 4)}});
  asked.containers = 0;
  EXPECT_EQ(complaint(asked), "containers: there is no container to fill; allowed: 1 or more");
  asked.containers = 1;
  asked.container.height_cm = 80;
  EXPECT_EQ(complaint(asked),
            "container.height_cm: a container 80 cm tall is outside what the model of drained pots covers; allowed: "
            "above 0, at most 60 cm, inside the container");
}

// Covers: a jar test made from a known material gives that material back. Tolerance: the quadrature's 1e-7.
TEST(JarTest, GivesBackTheMaterialItWasMadeFrom) {
  const Material truth = grains(3, 4);
  const double height = 12;
  const PoreSpace pores{{0.42, 0.07 * 0.42, 0.455, 6}};
  JarTest test;
  test.volume_ml = 1000;
  test.dry_g = 1500;
  test.height_cm = height;
  test.water_to_fill_ml = 420;
  test.water_drained_ml = 1000 * (0.42 - column_capacity(pores, height));
  Material guess = grains(3, 4);
  guess.bulk_density_kg_l = between(1, 1.2, 1.4);
  guess.porosity = between(0.5, 0.55, 0.6);
  const auto measured = with_jar_test(guess, test, "my jar");
  ASSERT_TRUE(measured.ok()) << measured.error().message();
  EXPECT_NEAR(measured->bulk_density_kg_l.quantity.value, 1.5, 1e-12);
  EXPECT_NEAR(measured->porosity.quantity.value, 0.42, 1e-12);
  ASSERT_TRUE(measured->alpha_per_cm.has_value());
  EXPECT_NEAR(measured->alpha_per_cm->quantity.value, truth.typical_alpha_per_cm(), 1e-4);
  EXPECT_EQ(measured->porosity.source, "my jar");
  EXPECT_LT(measured->porosity.quantity.low, 0.42);
}

// Covers: weights say the same as volumes; 1 g of water is 1 mL.
TEST(JarTest, WeightsSayTheSameAsVolumes) {
  JarTest poured{1000, 700, 12, 540, 300, {}, {}, 0.03};
  JarTest weighed{1000, 700, 12, {}, {}, 1240, 940, 0.03};
  const auto a = analysed(poured);
  const auto b = analysed(weighed);
  ASSERT_TRUE(a.ok() && b.ok());
  EXPECT_DOUBLE_EQ(a->porosity.value, b->porosity.value);
  EXPECT_DOUBLE_EQ(a->air.value, b->air.value);
  EXPECT_DOUBLE_EQ(a->water.value, 0.24);
}

TEST(JarTest, SaysWhatIsWrong) {
  const auto complaint = [](const JarTest& test) {
    const auto result = analysed(test);
    return result ? "" : result.error().message();
  };
  EXPECT_EQ(complaint({0, 700, 12, 540, 300, {}, {}, 0.03}), "volume_ml: found 0; allowed: above 0");
  EXPECT_EQ(complaint({1000, 700, 12, 1200, 300, {}, {}, 0.03}),
            "water_to_fill_ml: found 1200 mL in a jar of 1000 mL; allowed: above 0, below the volume of the jar");
  EXPECT_EQ(complaint({1000, 700, 12, 540, 600, {}, {}, 0.03}),
            "water_drained_ml: found 600 mL of 540 mL; allowed: above 0, below the water to fill");
  EXPECT_EQ(complaint({1000, 700, 12, {}, {}, {}, {}, 0.03}),
            "the water is missing; allowed: water_to_fill_ml and water_drained_ml, or full_g and drained_g");
}

}  // namespace
}  // namespace strikebed::mix
