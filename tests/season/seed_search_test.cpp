// The search for the smallest number of seeds, and the sharing between wants.
#include "season/seed_search.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "example_goals.hpp"

namespace strikebed::season {
namespace {

// A chance that steps from too little to enough at one number: the search finds that number from wherever it starts.
TEST(SeedSearch, FindsTheFirstNumberThatIsEnough) {
  for (const int first : {1, 2, 3, 17, 400, 5'001, 999'999}) {
    for (const int start : {1, 2, 399, 400, 401, 30'000, kMostSeeds}) {
      const auto step = [&](int seeds) { return seeds >= first ? 0.95 : 0.2; };
      EXPECT_EQ(smallest_seeds(step, 0.9, start, kMostSeeds, 0), first) << "from " << start;
      // Smooth, steep and flat rises with the same crossing.
      for (const double steepness : {0.3, 3.0, 40.0}) {
        const auto smooth = [&](int seeds) {
          return 0.9 + 0.09 * std::tanh(steepness * std::log((seeds + 0.5) / first));
        };
        EXPECT_EQ(smallest_seeds(smooth, 0.9, start, kMostSeeds, 0), first) << "from " << start << ", " << steepness;
      }
    }
  }
}

TEST(SeedSearch, SaysWhenNoNumberIsEnough) {
  EXPECT_FALSE(smallest_seeds([](int) { return 0.6; }, 0.9, 100, kMostSeeds, 0).has_value());
  EXPECT_FALSE(smallest_seeds([](int seeds) { return seeds > 500 ? 1.0 : 0.0; }, 0.9, 100, 500, 0).has_value());
  EXPECT_EQ(smallest_seeds([](int seeds) { return seeds >= 500 ? 1.0 : 0.0; }, 0.9, 100, 500, 0), 500);
}

// With a tolerance the number is enough, and none that is smaller by more than the tolerance would be.
TEST(SeedSearch, KeepsToItsTolerance) {
  for (const int first : {90, 4'321, 250'000}) {
    const auto smooth = [&](int seeds) { return 0.9 + 0.09 * std::tanh(2 * std::log((seeds + 0.5) / first)); };
    const int found = smallest_seeds(smooth, 0.9, 1'000, kMostSeeds, 0.004).value_or(0);
    EXPECT_GE(found, first);
    EXPECT_LE(found, first + std::max(1.0, 0.004 * first));
  }
}

// Shares sum to one and make the wants equally sure, within 0.01 as the plan says "about"; with and without a cap that
// binds, like and unlike takes.
TEST(SeedSearch, SharesMakeWantsEquallySure) {
  for (const Example& example : engine_examples()) {
    if (example.shares.size() < 2) continue;
    const Asked asked(example.goal, example.weather, 6, 9);
    const std::vector<Sowing> sowings = asked.sowings(example.sow);
    const SeedAnswer answer = seeds_for(asked.model(), sowings, 0.8, kMostSeeds, Precision::exact);
    EXPECT_NEAR(std::accumulate(answer.shares.begin(), answer.shares.end(), 0.0), 1, 1e-12) << example.name;
    ASSERT_TRUE(answer.seeds.has_value()) << example.name;
    const Assurance sure = asked.model().assurance(sowings, *answer.seeds, answer.shares, Precision::exact);
    EXPECT_GE(sure.chance, 0.8) << example.name;
    EXPECT_NEAR(sure.by_want[0], sure.by_want[1], 0.01) << example.name;
    const Assurance fewer = asked.model().assurance(sowings, *answer.seeds - 1, answer.shares, Precision::exact);
    EXPECT_LT(fewer.chance, 0.8) << example.name;
  }
}

}  // namespace
}  // namespace strikebed::season
