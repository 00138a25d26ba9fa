// Recipes as written, and the messages when they cannot be read.
#include "mix/recipe.hpp"

#include <gtest/gtest.h>

#include <array>
#include <random>

namespace strikebed::mix {
namespace {

TEST(Recipe, IsReadByPartsMaterialsAndGrains) {
  const auto recipe = parse_recipe("2 grit 3-4 mm, 1.5 fired-clay-2-4 + 0.5 sand 0.3mm,1 my-mix.toml", "recipe");
  ASSERT_TRUE(recipe.ok()) << recipe.error().message();
  ASSERT_EQ(recipe->size(), 4U);
  EXPECT_EQ(recipe->at(0).parts, 2);
  EXPECT_EQ(recipe->at(0).material, "grit");
  ASSERT_TRUE(recipe->at(0).grains.has_value());
  EXPECT_DOUBLE_EQ(recipe->at(0).grains->low_mm, 3);
  EXPECT_DOUBLE_EQ(recipe->at(0).grains->high_mm, 4);
  EXPECT_EQ(recipe->at(1).material, "fired-clay-2-4");
  EXPECT_FALSE(recipe->at(1).grains.has_value());
  EXPECT_DOUBLE_EQ(recipe->at(2).grains->high_mm, 0.3);
  EXPECT_EQ(recipe->at(3).material, "my-mix.toml");
  EXPECT_EQ(recipe->at(3).lost, 0);
  const auto sieved = parse_recipe("2 grit 3-4 mm less 15 %, 1 fired-clay less 7.5%", "recipe");
  ASSERT_TRUE(sieved.ok()) << sieved.error().message();
  EXPECT_DOUBLE_EQ(sieved->at(0).lost, 0.15);
  EXPECT_DOUBLE_EQ(sieved->at(0).grains->high_mm, 4);
  EXPECT_EQ(sieved->at(1).material, "fired-clay");
  EXPECT_DOUBLE_EQ(sieved->at(1).lost, 0.075);
}

TEST(Recipe, IsUnderstoodAsAGrowerWritesIt) {
  for (const char* written :
       {"2 parts 3-4 mm grit and 1 part 2-4 mm fired clay", "2 parts of grit 3-4 mm, 1 part of fired clay 2-4mm",
        "2: 3-4mm grit + 1: 2-4mm fired clay"}) {
    const auto recipe = parse_recipe(written, "recipe");
    ASSERT_TRUE(recipe.ok()) << recipe.error().message();
    ASSERT_EQ(recipe->size(), 2U) << written;
    EXPECT_EQ(recipe->at(0).parts, 2) << written;
    EXPECT_EQ(recipe->at(0).material, "grit") << written;
    EXPECT_DOUBLE_EQ(recipe->at(0).grains->high_mm, 4) << written;
    EXPECT_EQ(recipe->at(1).parts, 1) << written;
    EXPECT_EQ(recipe->at(1).material, "fired clay") << written;
    EXPECT_DOUBLE_EQ(recipe->at(1).grains->low_mm, 2) << written;
  }
  EXPECT_DOUBLE_EQ(parse_recipe("1 part 3-4 mm grit less 15 %", "recipe")->at(0).lost, 0.15);
  EXPECT_EQ(parse_recipe("1 party-mix", "recipe")->at(0).material, "party-mix") << "part is a word of its own";
}

// Covers: inches, by definition 25.4 mm.
TEST(Recipe, GrainsMayBeInInches) {
  const auto grains = parse_grains("1/8-1/4 in", "sand");
  ASSERT_TRUE(grains.ok()) << grains.error().message();
  EXPECT_DOUBLE_EQ(grains->low_mm, 3.175);
  EXPECT_DOUBLE_EQ(grains->high_mm, 6.35);
}

std::string complaint(const char* text) {
  const auto recipe = parse_recipe(text, "recipe");
  return recipe ? "" : recipe.error().message();
}

TEST(Recipe, SaysWhatIsWrong) {
  const std::string form = "; allowed: parts and materials between commas, such as \"2 grit 3-4 mm, 1 fired-clay\"";
  EXPECT_EQ(complaint(""), "recipe: the recipe is empty" + form);
  EXPECT_EQ(complaint("grit"), "recipe: \"grit\" does not start with its number of parts" + form);
  EXPECT_EQ(complaint("2 grit less 95 %"),
            "recipe: \"less 95 %\" is no share lost in sieving; allowed: per cent from 0 to 90, such as \"2 grit 3-4 "
            "mm less 15 %\"");
  EXPECT_EQ(complaint("2 less 5 %"), "recipe: \"2 less 5 %\" names no material" + form);
  EXPECT_EQ(complaint("2 grit, 1"), "recipe: \"1\" names no material" + form);
  EXPECT_EQ(complaint("-2 grit"), "recipe: \"-2 grit\" has -2 parts" + form);
  EXPECT_EQ(complaint("0 grit, 0 sand"), "recipe: the recipe sums to nothing; allowed: at least one part above 0");
  EXPECT_EQ(complaint("2 grit 4-3 mm"),
            "recipe: the grain range 4-3 mm is reversed; allowed: the smaller size first: 3-4 mm");
  EXPECT_EQ(complaint("2 grit 0 mm"), "recipe: \"0 mm\" is not above 0; allowed: a length above 0");
}

// Covers: any text is read or refused with a reason; what is read has parts, names and grains in order.
TEST(Recipe, AnyTextIsReadOrRefused) {
  constexpr std::array<const char*, 16> pieces{
      "2", "1.5",  "0",       "9999999999999999999999", "grit", "3-4", "mm", "in", " ", ",", "+", "-", "/",
      ":", "\xff", "\xc3\xa4"};
  std::mt19937 random(1);  // the same texts every time
  int read = 0;
  for (int i = 0; i < 20000; ++i) {
    std::string text;
    for (auto k = random() % 9; k > 0; --k) text += pieces[random() % pieces.size()];
    const auto recipe = parse_recipe(text, "recipe");
    if (!recipe) {
      EXPECT_FALSE(recipe.error().problem.empty()) << text;
      continue;
    }
    ++read;
    double parts = 0;
    for (const NamedPart& part : *recipe) {
      parts += part.parts;
      EXPECT_FALSE(part.material.empty()) << text;
      EXPECT_TRUE(!part.grains || checked(*part.grains).ok()) << text;
    }
    EXPECT_GT(parts, 0) << text;
  }
  EXPECT_GT(read, 100);  // the pieces do make recipes
}

}  // namespace
}  // namespace strikebed::mix
