// The engine against a simulation of one seedling at a time (one_by_one.hpp) on sixteen invented goals: caps that
// bind, windows that close, two wants, every stage, both hemispheres, winters between, 60 to 2,000 seeds.
#include "season/model.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "example_goals.hpp"
#include "one_by_one.hpp"

namespace strikebed::season {
namespace {

constexpr double kPromised = 0.01;  // of the assurance, docs/methods/season.md

const std::vector<Example>& examples() {
  static const std::vector<Example> made = engine_examples();
  return made;
}

/// Holds one example against `seasons` seasons of the simulation.
void hold_against_one_by_one(const Example& example, int seasons, double tolerance) {
  const Asked asked(example.goal, example.weather);
  const Assurance engine =
      asked.model().assurance(asked.sowings(example.sow), example.seeds, example.shares, Precision::exact);
  const std::vector<Sowing> sowings = asked.sowings(example.sow);
  const std::vector<int> split = split_seeds(example.seeds, sowings);
  std::vector<one_by_one::SownSeeds> sown;
  for (std::size_t i = 0; i < split.size(); ++i) sown.push_back({sowings[i].day(), split[i], sowings[i].seed()});
  const one_by_one::Outcome plain = one_by_one::simulate(example.goal, asked.sums(), asked.model().sessions(), sown,
                                                         example.shares, seasons, 20'270'101);
  fmt::print("| {} | {} | {:.4f} | {:.4f} | {:.4f} | {:+.4f} | {:.4f} |\n", example.name, example.seeds, engine.chance,
             engine.error, plain.met, engine.chance - plain.met, plain.error);
  // An assurance near 0 or 1 would hide a difference.
  EXPECT_GT(plain.met, 0.3);
  EXPECT_LT(plain.met, 0.95);
  EXPECT_NEAR(engine.chance, plain.met, tolerance);
  for (std::size_t w = 0; w < example.shares.size(); ++w) {
    EXPECT_NEAR(engine.by_want[w], plain.by_want[w], tolerance) << "want " << w;
  }
}

// The quick look: so many seasons that a blunder shows (fewer where there are many seeds), within 0.01 and three
// standard errors of the simulation.
class Engine : public testing::TestWithParam<std::size_t> {};
TEST_P(Engine, AgreesWithOneSeedlingAtATime) {
  const Example& example = examples()[GetParam()];
  const int seasons = std::clamp(3'000'000 / example.seeds, 2'500, 10'000);
  hold_against_one_by_one(example, seasons, kPromised + 3 * std::sqrt(0.25 / seasons));
}

// The promise itself: 200,000 seasons, whose own standard error is 0.001.
class LongEngine : public testing::TestWithParam<std::size_t> {};
TEST_P(LongEngine, AgreesWithOneSeedlingAtATime) {
  hold_against_one_by_one(examples()[GetParam()], 200'000, kPromised);
}

const auto kNames = [](const testing::TestParamInfo<std::size_t>& info) { return examples()[info.param].name; };
INSTANTIATE_TEST_SUITE_P(, Engine, testing::Range<std::size_t>(0, 16), kNames);
INSTANTIATE_TEST_SUITE_P(, LongEngine, testing::Range<std::size_t>(0, 16), kNames);

}  // namespace
}  // namespace strikebed::season
