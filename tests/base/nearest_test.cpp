// Covers base/nearest: the suggestion behind "did you mean". No outside numbers: words and their distances by hand.
#include "base/nearest.hpp"

#include <gtest/gtest.h>

#include <array>

namespace strikebed {
namespace {

constexpr std::array<std::string_view, 4> kKeys = {"count", "count_at", "assurance", "by"};

TEST(NearestWord, FindsAMistypedKey) {
  EXPECT_EQ(nearest_word("asurance", kKeys), "assurance");
  EXPECT_EQ(nearest_word("cuont", kKeys), "count");  // swapped neighbours are one slip
  EXPECT_EQ(nearest_word("countat", kKeys), "count_at");
}

TEST(NearestWord, FindsAWordThatIsCutShort) {
  EXPECT_EQ(nearest_word("Assu", kKeys), "assurance");
  EXPECT_EQ(nearest_word("as", kKeys), std::nullopt) << "two letters begin too many words";
  constexpr std::array<std::string_view, 2> kTwo = {"seedling_count", "seedling_height"};
  EXPECT_EQ(nearest_word("seed", kTwo), std::nullopt) << "it could be either";
}

TEST(NearestWord, IsSilentWhenNothingIsNear) {
  EXPECT_EQ(nearest_word("temperature", kKeys), std::nullopt);
  EXPECT_EQ(nearest_word(std::string(100, 'x'), kKeys), std::nullopt);
  EXPECT_EQ(nearest_word("xyz", std::span<const std::string_view>{}), std::nullopt);
}

}  // namespace
}  // namespace strikebed
