// The engine where the answer is known in closed form: plain binomials, one Beta rate, a worked chain of seven rates
// and a single full session.
#include <gtest/gtest.h>

#include <array>
#include <cmath>

#include "evidence/beta.hpp"
#include "evidence/beta_binomial.hpp"
#include "evidence/binomial.hpp"
#include "example_goals.hpp"
#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

/// P(X >= wanted) by adding up binomial terms from the first up; shares nothing with the program.
double binomial_tail(int wanted, int tries, long double chance) {
  long double below = 0;
  for (int k = 0; k < wanted; ++k) {
    const long double log_ways = std::lgamma(tries + 1.0L) - std::lgamma(k + 1.0L) - std::lgamma(tries - k + 1.0L);
    below += std::exp(log_ways + k * std::log(chance) + (tries - k) * std::log1p(-chance));
  }
  return static_cast<double>(1 - below);
}

int smallest_by_sums(int wanted, long double chance, double assurance) {
  int tries = wanted;
  while (binomial_tail(wanted, tries, chance) < assurance) ++tries;
  return tries;
}

climate::WeatherSeasons weather_for(const Goal& goal) { return even_weather(goal.today, 330, 15); }

/// Sown on the first day; whatever follows is in time.
class InTime {
 public:
  explicit InTime(const Goal& goal, int replicates = 12, int log2_points = 10)
      : asked_(goal, weather_for(goal), replicates, log2_points), sowings_(asked_.sowings({goal.today})) {}
  Assurance assurance(int seeds) const {
    const std::array<double, 1> all{1.0};
    return asked_.model().assurance(sowings_, seeds, all, Precision::exact);
  }
  std::optional<int> seeds() const {
    return seeds_for(asked_.model(), sowings_, asked_.goal().assurance, kMostSeeds, Precision::exact).seeds;
  }
  double mean_counted(int seeds) const {
    const std::array<int, 1> sown{seeds};
    const std::array<double, 1> all{1.0};
    return asked_.model().counted(sowings_, sown, all, 0).mean[0];
  }

 private:
  Asked asked_;
  std::vector<Sowing> sowings_;
};

void set_rates(Goal& goal, const std::array<RateBelief, 7>& chain) {
  for (std::size_t i = 0; i < chain.size(); ++i) belief_of(goal, growth::kRungs[i].rung, 0) = chain[i];
}

constexpr std::array<double, 7> kMeans{0.75, 0.90, 0.88, 0.60, 0.88, 0.90, 0.90};

// With all rates known and no limits from dates, windows or sessions, the plain binomial answer, exactly: the same
// whole number as the closed form and as a sum of binomial terms.
TEST(ClosedForms, KnownRatesGiveThePlainBinomialNumber) {
  for (const int wanted : {1, 8, 60, 250}) {
    for (const double germination : {0.35, 0.82, 0.99}) {
      for (const double assurance : {0.5, 0.8, 0.9, 0.99}) {
        Goal goal = goal_without_limits(wanted);
        goal.assurance = assurance;
        goal.rates[Rung::germination] = known(germination);
        goal.wants[0].take = known(0.65);
        const int number = InTime(goal, 2, 1).seeds().value_or(0);
        EXPECT_EQ(number, evidence::smallest_number(wanted, germination * 0.65, assurance, kMostSeeds));
        EXPECT_EQ(number, smallest_by_sums(wanted, static_cast<long double>(germination) * 0.65L, assurance))
            << wanted << " wanted, " << germination << ", " << assurance;
      }
    }
  }
}

// All seven rates certain: as many seeds as plants.
TEST(ClosedForms, NothingLostNeedsNoMoreThanWanted) {
  Goal goal = goal_without_limits(40);
  EXPECT_EQ(InTime(goal, 2, 1).seeds(), 40);
}

// One rate believed from a test of 28 of 40: counts are beta-binomial. The number within 1 %, the assurance within
// three of its stated standard errors (and 1e-5 for the table of the Beta's quantiles, promised to 1e-6 of the rate).
TEST(ClosedForms, OneBelievedRateGivesTheBetaBinomial) {
  for (const int wanted : {12, 60, 300}) {
    for (const double assurance : {0.5, 0.8, 0.95}) {
      Goal goal = goal_without_limits(wanted);
      goal.assurance = assurance;
      goal.wants[0].take = tested(28, 40);
      const InTime asked(goal);
      const auto expected = evidence::beta_binomial_smallest_number(wanted, assurance, 29, 13);
      ASSERT_TRUE(expected.has_value());
      EXPECT_NEAR(asked.seeds().value_or(0), *expected, std::max(0.01 * *expected, 1.0)) << wanted << ", " << assurance;
      const Assurance sure = asked.assurance(*expected);
      EXPECT_NEAR(sure.chance, evidence::beta_binomial_at_least(wanted, *expected, 29, 13), 3 * sure.error + 1e-5)
          << wanted << ", " << assurance;
    }
  }
}

// The worked chain: 100 plants through rates whose product is 0.25404 (100 / 0.25404 = 393.6, by hand).
TEST(ClosedForms, WorkedChainNeeds394SeedsOnTheMean) {
  Goal goal = goal_without_limits(100);
  std::array<RateBelief, 7> chain;
  for (std::size_t i = 0; i < chain.size(); ++i) chain[i] = known(kMeans[i]);
  set_rates(goal, chain);
  const InTime asked(goal, 2, 1);
  EXPECT_LT(asked.mean_counted(393), 100);
  EXPECT_GE(asked.mean_counted(394), 100);
}

// The same rates uncertain, each a Beta of the stated sd: chances of 100 plants by 4,000,000 draws in R 4.2.2 (rbeta,
// pbinom; standard error 0.0002), see tests/reference/survival_chains.json. 0.003: the engine's own error is about
// 0.001.
TEST(ClosedForms, WorkedChainWithUncertainRates) {
  constexpr std::array<double, 7> kSds{0.10, 0.06, 0.07, 0.18, 0.08, 0.07, 0.06};
  Goal goal = goal_without_limits(100);
  std::array<RateBelief, 7> chain;
  for (std::size_t i = 0; i < chain.size(); ++i) {
    const double weight = kMeans[i] * (1 - kMeans[i]) / (kSds[i] * kSds[i]) - 1;  // a + b
    chain[i] = tested(kMeans[i] * weight - 1, weight - 2);
  }
  set_rates(goal, chain);
  const InTime asked(goal);
  const std::array<std::pair<int, double>, 5> expected{
      {{400, 0.4948}, {450, 0.6045}, {500, 0.6905}, {600, 0.8072}, {800, 0.9170}}};
  for (const auto& [seeds, chance] : expected) {
    EXPECT_NEAR(asked.assurance(seeds).chance, chance, 0.003) << seeds << " seeds";
  }
  goal.assurance = 0.8;
  EXPECT_NEAR(InTime(goal).seeds().value_or(0), 592, 12);  // where a line between 500 and 600 in R's numbers has 0.8
}

// 96 seeds, half of them come up, one session of 48, take 0.7 known, 30 wanted: the sum over how many are ready of the
// binomial of those struck is 0.7768. A flow of means would say 0.90.
TEST(ClosedForms, OneFullSession) {
  Goal goal = goal_without_limits(30);
  goal.rates[Rung::germination] = known(0.5);
  goal.wants[0].take = known(0.7);
  goal.sessions.dates = {goal.today + Days{60}};
  goal.sessions.cuttings_at_most = 48;
  double exact = 0;
  for (int ready = 0; ready <= 96; ++ready) {
    const double chance = binomial_tail(ready, 96, 0.5L) - (ready < 96 ? binomial_tail(ready + 1, 96, 0.5L) : 0);
    exact += chance * (std::min(ready, 48) < 30 ? 0 : binomial_tail(30, std::min(ready, 48), 0.7L));
  }
  EXPECT_NEAR(exact, 0.777, 0.0005);
  EXPECT_NEAR(InTime(goal).assurance(96).chance, exact, 0.01);
}

}  // namespace
}  // namespace strikebed::season
