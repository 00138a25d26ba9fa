#include "season/chain.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>

#include "tests/season/example_goals.hpp"

namespace strikebed::season {
namespace {

std::vector<UncertainQuantity> those_of(const Chain& chain, ChainQuantity quantity) {
  std::vector<UncertainQuantity> found;
  std::ranges::copy_if(chain.uncertain, std::back_inserter(found),
                       [&](const UncertainQuantity& one) { return one.draw.quantity == quantity; });
  return found;
}

}  // namespace

// Wants without a take of their own share one unknown, which is nobody's own; a take of its own names its want.
TEST(Chain, NamesTheWantWhereItsTakeIsItsOwn) {
  Goal goal = weekend_goal({40, 8});
  for (Want& want : goal.wants) want.take.belief = Ranged{0.3, 0.9, 0.65};
  const auto shared = those_of(Chain(goal), ChainQuantity::take);
  ASSERT_EQ(shared.size(), 1U);
  EXPECT_EQ(shared[0].want, std::nullopt);
  goal.wants[1].take.belief = Tested{20, 30};
  goal.wants[1].own_take = true;
  const auto own = those_of(Chain(goal), ChainQuantity::take);
  ASSERT_EQ(own.size(), 2U);
  EXPECT_EQ(own[0].want, 0U);
  EXPECT_EQ(own[1].want, 1U);
  EXPECT_EQ(own[1].tries, 65);  // twice the weight of Beta(21, 11), in fives
}

// What comes after the plants are counted is not asked about; a timing has no tries and moves the dates.
TEST(Chain, AsksOnlyForWhatComesBeforeTheCount) {
  Goal goal = weekend_goal({40});
  goal.species = doubtful_pine();
  for (RateBelief* belief : {&goal.rates[Rung::weaning], &goal.rates[Rung::winter]})
    belief->belief = Ranged{0.7, 0.95, {}};
  goal.count_at = CountAt::rooted;
  EXPECT_TRUE(those_of(Chain(goal), ChainQuantity::weaning).empty());
  goal.count_at = CountAt::weaned;
  EXPECT_EQ(those_of(Chain(goal), ChainQuantity::weaning).size(), 1U);
  EXPECT_TRUE(those_of(Chain(goal), ChainQuantity::winter).empty());
  goal.count_at = CountAt::established;
  EXPECT_EQ(those_of(Chain(goal), ChainQuantity::winter).size(), 1U);
  const auto ripening = those_of(Chain(goal), ChainQuantity::ripening_time);
  ASSERT_EQ(ripening.size(), 1U);
  EXPECT_EQ(ripening[0].tries, 0);
  EXPECT_FALSE(ripening[0].is_rate());
}

}  // namespace strikebed::season
