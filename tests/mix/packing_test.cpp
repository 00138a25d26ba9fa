// Packing: where a mix is densest, what is conserved, what is refused. Published numbers stand in
// tests/reference/packing.json.
#include "mix/packing.hpp"

#include <gtest/gtest.h>

#include <array>

namespace strikebed::mix {
namespace {

double two_sizes(double fine_share, double ratio) {
  const std::array<Grains, 2> grains{{{1 - fine_share, 0.6, 1}, {fine_share, 0.58, ratio}}};
  return mixed_packing(grains);
}

// Covers: the porosity of a binary mix is lowest where coarse and fine just fill each other: where the two branches of
// the model meet. Tolerance: the step of the search.
TEST(Packing, BinaryMixIsDensestWhereTheModelSays) {
  EXPECT_NEAR(furnas_best_fine_share(0.625, 0.625), 0.27273, 1e-5);
  constexpr double kStep = 0.001;
  double best_share = 0;
  double best = 0;
  for (double y = 0; y <= 1; y += kStep) {
    if (furnas_packing(0.6, 0.58, y) > best) {
      best = furnas_packing(0.6, 0.58, y);
      best_share = y;
    }
  }
  EXPECT_NEAR(best_share, furnas_best_fine_share(0.6, 0.58), kStep);
  // Vanishingly small fines: de Larrard's model becomes Furnas'. Tolerance: a(1e-6) = 0.001.
  for (const double y : {0.1, best_share, 0.5, 0.9})
    EXPECT_NEAR(two_sizes(y, 1e-6), furnas_packing(0.6, 0.58, y), 0.003);
}

// Covers: the smaller the fine grains, the denser; one hump over the share.
TEST(Packing, SmallerFinesPackDenserWithOneHump) {
  for (const double ratio : {0.02, 0.1, 0.3, 0.7}) {
    int turns = 0;
    for (double y = 0.01; y < 0.98; y += 0.01) {
      EXPECT_GE(two_sizes(y, ratio), two_sizes(y, ratio * 1.2) - 1e-12);
      const double before = two_sizes(y, ratio) - two_sizes(y - 0.01, ratio);
      const double after = two_sizes(y + 0.01, ratio) - two_sizes(y, ratio);
      if (before > 0 && after <= 0) ++turns;
    }
    EXPECT_LE(turns, 1);
  }
}

// Covers: grains keep their volume; what is lost in volume is lost in pores; nothing is gained by hand.
TEST(Packing, GrainsAreConservedAndPoresPayForTheShrinkage) {
  const std::array<Poured, 3> parts{{{6, 0.58, 3.5}, {3, 0.55, 0.4}, {2, 0.30, 1.2}}};
  for (const double achieved : {0.0, 0.6, 0.8, 1.0}) {
    const auto mixture = mixed(parts, achieved);
    ASSERT_TRUE(mixture.ok());
    const double solid = 6 * 0.58 + 3 * 0.55 + 2 * 0.30;
    EXPECT_NEAR(mixture->volume * mixture->packing, solid, 1e-12);
    double pores = 0;
    for (const double own : mixture->pores) {
      EXPECT_GE(own, 0);
      pores += own;
    }
    EXPECT_NEAR(pores, 1 - mixture->packing, 1e-12);
    EXPECT_LE(mixture->volume, 11 + 1e-12);
    EXPECT_GE(mixture->volume, solid);
  }
  EXPECT_NEAR(mixed(parts, 0)->volume, 11, 1e-12);
}

// Covers: the widest pores are lost first.
TEST(Packing, FinesSitInTheWidestPores) {
  const std::array<Poured, 2> parts{{{1, 0.57, 0.2}, {3, 0.58, 3.5}}};
  const auto mixture = mixed(parts, 1);
  ASSERT_TRUE(mixture.ok());
  EXPECT_NEAR(mixture->pores[0] * mixture->volume, 0.43, 1e-12);
  EXPECT_LT(mixture->pores[1] * mixture->volume, 3 * 0.42);
}

// Covers: equal sizes do not shrink, whatever their pores.
TEST(Packing, EqualSizesDoNotShrink) {
  const std::array<Poured, 2> parts{{{2, 0.6, 2}, {1, 0.4, 2}}};
  EXPECT_NEAR(mixed(parts, 1)->volume, 3, 1e-12);
}

TEST(Packing, RefusesNothingAndNonsense) {
  const auto complaint = [](const Poured& part) {
    const auto result = mixed(std::array<Poured, 1>{part}, 1);
    return result ? "" : result.error().message();
  };
  EXPECT_EQ(complaint({0, 0.6, 2}), "the recipe sums to nothing; allowed: at least one part above 0");
  EXPECT_EQ(complaint({-1, 0.6, 2}), "a component's volume is negative; allowed: 0 or more");
  EXPECT_EQ(complaint({1, 1, 2}), "a component's packing is not between 0 and 1; allowed: above 0, below 1");
  EXPECT_EQ(complaint({1, 0.6, 0}), "a component's grains have no size; allowed: above 0 mm");
}

}  // namespace
}  // namespace strikebed::mix
