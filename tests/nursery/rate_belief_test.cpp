// Covers  every written form of a rate, and every way to write it wrong.
// Ref     the table of beliefs in docs/goal-file.md.
// Tol     none: the numbers are those written.
#include "nursery/rate_belief.hpp"

#include <gtest/gtest.h>

#include "evidence/beta.hpp"

namespace strikebed::nursery {
namespace {

struct Read {
  std::optional<RateBelief> belief;
  std::string message;
};
Read read(const std::string& written) {
  const Result<TomlFile> file = TomlFile::parse("take = " + written, "a.toml");
  if (!file) return {std::nullopt, file.error().message()};
  auto belief = read_rate(file->root(), "take");
  const auto error = file->finish();
  return {belief, error ? error->message() : ""};
}

TEST(RateBelief, ABareNumberIsKnownExactly) {
  for (const char* written : {"0.88", "{ exactly = 0.88 }", "{ value = 0.88 }"}) {
    const Read r = read(written);
    ASSERT_EQ(r.message, "");
    EXPECT_EQ(std::get<Known>(r.belief->belief).share, 0.88);
    EXPECT_EQ(r.belief->batch_spread, std::nullopt);
    EXPECT_EQ(with_batch_spread(*r.belief, 0.5).batch_spread, 0.0) << "nothing else acts on a rate known exactly";
  }
  EXPECT_EQ(std::get<Known>(read("0").belief->belief).share, 0);
  EXPECT_EQ(std::get<Known>(read("1").belief->belief).share, 1);
}

TEST(RateBelief, ASpreadMayStandBesideAnyOfThem) {
  for (const char* written : {"{ exactly = 0.88, batch_spread = 0.3 }", "{ good = 41, of = 50, batch_spread = 0.3 }",
                              "{ low = 0.3, high = 0.9, batch_spread = 0.3 }",
                              "{ about = 0.6, low = 0.3, high = 0.9, batch_spread = 0.3 }"}) {
    const Read r = read(written);
    ASSERT_EQ(r.message, "") << written;
    EXPECT_EQ(with_batch_spread(*r.belief, 0.5).batch_spread, 0.3);
  }
}

TEST(RateBelief, ATestAndARangeKeepTheirNumbersAndGetTheUsualSpread) {
  const Read test = read("{ good = 41, of = 50 }");
  ASSERT_EQ(test.message, "");
  EXPECT_EQ(std::get<Tested>(test.belief->belief).good, 41);
  EXPECT_EQ(std::get<Tested>(test.belief->belief).of, 50);
  EXPECT_EQ(with_batch_spread(*test.belief, 0.5).batch_spread, 0.5);
  const Read range = read("{ about = 0.65, low = 0.3, high = 0.9 }");
  ASSERT_EQ(range.message, "");
  const auto points = std::get<Ranged>(range.belief->belief);
  EXPECT_EQ(points.low, 0.3);
  EXPECT_EQ(points.about, 0.65);
  EXPECT_EQ(points.high, 0.9);
  EXPECT_EQ(std::get<Ranged>(read("{ low = 0.3, high = 0.9 }").belief->belief).about, std::nullopt);
}

struct WrongRate {
  const char* name;
  const char* written;
  const char* message;
};
void PrintTo(const WrongRate& wrong, std::ostream* out) { *out << wrong.name; }
class RateBeliefWrong : public ::testing::TestWithParam<WrongRate> {};

TEST_P(RateBeliefWrong, IsSaid) {
  const Read r = read(GetParam().written);
  EXPECT_FALSE(r.belief);
  EXPECT_EQ(r.message, GetParam().message);
}

INSTANTIATE_TEST_SUITE_P(
    Each, RateBeliefWrong,
    ::testing::Values(
        WrongRate{"above_1", "1.2", "a.toml:1: take: found 1.2; allowed: a number from 0 to 1 (a share: 0.88 is 88 %)"},
        WrongRate{"text", "\"88 %\"",
                  "a.toml:1: take: found \"88 %\"; allowed: a number from 0 to 1 (a share: 0.88 is 88 %)"},
        WrongRate{"more_good_than_tested", "{ good = 51, of = 50 }",
                  "a.toml:1: take.good: found 51 good of 50; allowed: no more good ones than were tested"},
        WrongRate{"test_of_none", "{ good = 0, of = 0 }",
                  "a.toml:1: take.of: found 0; allowed: a whole number from 1 to 1000000"},
        WrongRate{"test_half_said", "{ good = 41 }", "a.toml:1: take.of: is missing; allowed: how many were tested"},
        WrongRate{"low_above_high", "{ low = 0.9, high = 0.3 }",
                  "a.toml:1: take.low: found low 0.9 and high 0.3; allowed: low below high"},
        WrongRate{"low_of_0", "{ low = 0, high = 0.3 }",
                  "a.toml:1: take.low: found 0; allowed: a number from 0.0001 to 0.9999 (a share)"},
        WrongRate{"high_next_to_1", "{ low = 0.3, high = 0.9999999999999 }",
                  "a.toml:1: take.high: found 0.9999999999999; allowed: a number from 0.0001 to 0.9999 (a share)"},
        WrongRate{"middle_next_to_0", "{ about = 1e-9, low = 0.0001, high = 0.9 }",
                  "a.toml:1: take.about: found 1e-09; allowed: a number from 0.0001 to 0.9999 (a share)"},
        WrongRate{
            "low_almost_high", "{ low = 0.88, high = 0.880001 }",
            "a.toml:1: take.low: found low 0.88 and high 0.880001, almost the same; allowed: low at least 0.00001 "
            "below high, or a rate known exactly, such as 0.88"},
        WrongRate{"range_half_said", "{ low = 0.5 }",
                  "a.toml:1: take.high: is missing; allowed: the rate that yours stays below with 95 % chance"},
        WrongRate{"middle_outside", "{ about = 0.95, low = 0.3, high = 0.9 }",
                  "a.toml:1: take.about: found 0.95 with low 0.3 and high 0.9; allowed: a number between low and high"},
        WrongRate{"spread_below_0", "{ low = 0.3, high = 0.9, batch_spread = -1 }",
                  "a.toml:1: take.batch_spread: found -1; allowed: a number from 0 to 3 (standard deviation between "
                  "batches, logit scale)"},
        WrongRate{
            "two_beliefs", "{ good = 41, of = 50, low = 0.3 }",
            "a.toml:1: take: this is no belief of a rate, or more than one; allowed: a number from 0 to 1, { good "
            "= 41, of = 50 }, { low = 0.3, high = 0.9 }, { about = 0.65, low = 0.3, high = 0.9 } or { exactly = "
            "0.88 }, each table with or without batch_spread"}),
    [](const auto& wrong) { return std::string(wrong.param.name); });

TEST(RateBelief, AnUnknownKeyInABeliefIsNamed) {
  EXPECT_EQ(read("{ hig = 0.9, low = 0.3 }").message.find("a.toml:1: take.hig: unknown key (did you mean \"high\"?)"),
            0U);
}

// Covers  a take at another dip. Ref  the median is the ratio times the old one by definition; a ratio known exactly
// only moves the range on the logit scale. Tol 1e-12, one fixed formula.
TEST(RateBelief, ATakeAtAnotherDipIsARatioOfItsMedian) {
  const RateBelief take{Ranged{.low = 0.3, .high = 0.9, .about = 0.6}, 0.5};
  const auto at = [&](double ratio, double low, double high) {
    return std::get<Ranged>(at_another_dip(take, {.ratio = ratio, .ratio_low = low, .ratio_high = high}).belief);
  };
  const Ranged same = at(1, 1, 1);
  EXPECT_NEAR(same.low, 0.3, 1e-12);
  EXPECT_NEAR(same.high, 0.9, 1e-12);
  const Ranged less = at(0.5, 0.5, 0.5);
  EXPECT_NEAR(*less.about, 0.3, 1e-12);
  const auto odds = [](double share) { return share / (1 - share); };
  EXPECT_NEAR(odds(less.low) / odds(0.3), odds(0.3) / odds(0.6), 1e-12);
  const Ranged unsure = at(0.5, 0.2, 1);
  EXPECT_LT(unsure.low, less.low);
  EXPECT_GT(unsure.high, less.high);
  EXPECT_LT(at(5, 4, 6).high, 1) << "a share stays a share";
  // Whatever the two dips are, what comes out has its Beta.
  for (const Ranged& narrow : {Ranged{0.0001, 0.9999, 0.5}, {0.0001, 0.00012, 0.00011}, {0.9998, 0.9999, 0.99985}}) {
    for (const double ppm : {1.0, 649.0, 50'000.0}) {
      for (const double seconds : {1.0, 61.0, 172'800.0}) {
        for (const mix::DipComparison& dip :
             {mix::compare_dip(ppm, seconds, 650, 60), mix::compare_dip(650, 60, ppm, seconds)}) {
          const RateBelief moved = at_another_dip({narrow, 0.5}, dip);
          const auto beta = evidence::beta_of(moved);
          EXPECT_TRUE(beta.ok()) << ppm << " ppm, " << seconds << " s: " << beta.error().message();
        }
      }
    }
  }
  const RateBelief tested{Tested{.good = 41, .of = 50}, std::nullopt};
  EXPECT_EQ(std::get<Tested>(at_another_dip(tested, {.ratio = 0.5}).belief).good, 41) << "the grower's own stays";
}

}  // namespace
}  // namespace strikebed::nursery
