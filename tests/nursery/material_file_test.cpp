// Materials: the shipped ones are complete and lie where the tables put them, own files and jar tests go before them,
// and every mistake has its message. Then `mix medium` and `mix feed` from words.
#include "nursery/profiles/material_file.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "mix/retention.hpp"
#include "nursery/mixes/feed.hpp"
#include "nursery/mixes/medium.hpp"
#include "nursery/printed.hpp"
#include "tests/nursery/shipped.hpp"

namespace strikebed::nursery {
namespace {

const Library& library() { return shipped_library(); }

template <class T>
std::string message(const Result<T>& result) {
  return result ? "" : result.error().message();
}

TEST(Materials, ShippedOnesAreComplete) {
  EXPECT_GE(library().materials.size(), 10U);
  for (const auto& [id, text] : library().materials) {
    const auto material = read_material(text.text, text.file, library());
    ASSERT_TRUE(material.ok()) << material.error().message();
    EXPECT_EQ(material->id, id);
    for (const ProfileValue* value : {&material->bulk_density_kg_l, &material->porosity, &material->n}) {
      EXPECT_FALSE(value->source.empty());
      EXPECT_LT(value->quantity.low, value->quantity.high);
    }
  }
}

// Covers: air and water at 10 cm of the single materials lie in the growers' ranges (from memory; the pores of several
// were chosen so, and the files say so).
TEST(Materials, HoldAirAndWaterAsTheTablesSay) {
  struct Range {
    const char* id;
    double air_low, air_high, water_low, water_high;
  };
  for (const Range& range :
       {Range{"grit-1-3", 0.10, 0.25, 0.15, 0.25}, Range{"pumice-2-5", 0.30, 0.45, 0.25, 0.35},
        Range{"perlite-2-5", 0.35, 0.55, 0.25, 0.40}, Range{"fired-clay-2-4", 0.25, 0.35, 0.30, 0.45},
        Range{"bark-fines", 0.25, 0.40, 0.35, 0.45}, Range{"peat", 0.10, 0.20, 0.60, 0.70}}) {
    const auto material = find_material(library(), range.id, std::nullopt, "");
    ASSERT_TRUE(material.ok()) << material.error().message();
    const double pores = material->porosity.quantity.value;
    const double held = mix::column_capacity({{pores, pores * material->residual.quantity.value,
                                               material->typical_alpha_per_cm(), material->n.quantity.value}},
                                             10);
    const double inside = (1 - pores) * material->inside_water.quantity.value;
    EXPECT_GE(pores - held, range.air_low) << range.id;
    EXPECT_LE(pores - held, range.air_high) << range.id;
    EXPECT_GE(held + inside, range.water_low) << range.id;
    EXPECT_LE(held + inside, range.water_high) << range.id;
  }
}

TEST(Materials, AreFoundByIdByKindAndBySize) {
  EXPECT_EQ(find_material(library(), "grit-3-4", std::nullopt, "")->id, "grit-3-4");
  EXPECT_EQ(find_material(library(), "Fired clay", std::nullopt, "")->id, "fired-clay-2-4");
  EXPECT_EQ(find_material(library(), "grit", mix::GrainRange{3, 4}, "")->name, "grit 3-4 mm");
  const auto odd = find_material(library(), "sand", mix::GrainRange{0.3, 0.3}, "");
  ASSERT_TRUE(odd.ok());
  EXPECT_EQ(odd->id, "medium-sand");
  EXPECT_EQ(odd->name, "sand 0.3 mm");
  EXPECT_DOUBLE_EQ(odd->grains.high_mm, 0.3);
}

TEST(Materials, UnknownOnesNameTheNearest) {
  const std::string all =
      "allowed: \"bark-fines\", \"coarse-sand\", \"fine-sand\", \"fired-clay-2-4\", \"grit-1-3\", \"grit-3-4\", "
      "\"medium-sand\", "
      "\"peat\", \"perlite-2-5\" or \"pumice-2-5\", a kind with its size such as \"grit 2-4 mm\", or a .toml file of "
      "your own";
  EXPECT_EQ(message(find_material(library(), "pumcie", std::nullopt, "recipe")),
            "recipe: there is no material \"pumcie\" (did you mean \"pumice\"?); " + all);
  EXPECT_EQ(message(find_material(library(), "sand", std::nullopt, "recipe")),
            "recipe: \"sand\" comes in several sizes; allowed: \"coarse-sand\", \"fine-sand\" or \"medium-sand\", or "
            "with its "
            "size, such as \"sand 2-4 mm\"");
}

// Covers: a grower's own file says what differs, and the rest comes from the shipped one.
TEST(Materials, OwnFilesSayWhatDiffers) {
  const auto own =
      read_material("based_on = \"grit-3-4\"\nbulk_density = 1.48\ngrain_low_mm = 2.5\n", "my-grit.toml", library());
  ASSERT_TRUE(own.ok()) << own.error().message();
  EXPECT_EQ(own->id, "my-grit");
  EXPECT_DOUBLE_EQ(own->bulk_density_kg_l.quantity.low, 1.48);
  EXPECT_EQ(own->bulk_density_kg_l.source, "the grower's own my-grit.toml");
  EXPECT_DOUBLE_EQ(own->grains.low_mm, 2.5);
  EXPECT_DOUBLE_EQ(own->porosity.quantity.value, 0.42);
}

// Covers: the jar's numbers replace the estimates; the column of the jar drains to the jar's air. Tolerance: 1e-5.
TEST(Materials, AJarTestReplacesTheEstimates) {
  const auto mine = read_material(
      "based_on = \"grit-1-3\"\n[jar_test]\nvolume_ml = 1000\ndry_g = 1450\nheight_cm = 12\nwater_to_fill_ml = 430\n"
      "water_drained_ml = 250\n",
      "mine.toml", library());
  ASSERT_TRUE(mine.ok()) << mine.error().message();
  EXPECT_DOUBLE_EQ(mine->bulk_density_kg_l.quantity.value, 1.45);
  EXPECT_DOUBLE_EQ(mine->porosity.quantity.value, 0.43);
  const double held =
      mix::column_capacity({{0.43, 0.43 * mine->residual.quantity.value, mine->typical_alpha_per_cm(), 4}}, 12);
  EXPECT_NEAR(0.43 - held, 0.25, 1e-5);
  EXPECT_EQ(mine->porosity.source, "jar test in mine.toml");
}

TEST(Materials, SayWhatIsWrong) {
  const auto complaint = [](const std::string& text) { return message(read_material(text, "my.toml", library())); };
  EXPECT_EQ(complaint("based_on = \"grit-3-4\"\nbulk_densty = 1.4\n"),
            "my.toml:2: bulk_densty: unknown key (did you mean \"bulk_density\"?); allowed: \"alpha\", \"based_on\", "
            "\"bulk_density\", \"dust\", \"grain_high_mm\", \"grain_low_mm\", \"id\", \"inside_water\", \"jar_test\", "
            "\"kind\", \"n\", \"name\", \"porosity\" or \"residual\"");
  EXPECT_EQ(complaint("based_on = \"grit-3-4\"\nporosity = 1.4\n"),
            "my.toml:2: porosity: found 1.4; allowed: a number from 0.05 to 0.98 (share)");
  EXPECT_EQ(complaint("based_on = \"grit-3-4\"\ngrain_low_mm = 5\n"),
            "my.toml:2: grain_low_mm: found 5 with grain_high_mm 4; allowed: the smaller size below the larger");
  EXPECT_EQ(complaint("based_on = \"grit-3-4\"\nn = { value = 5, low = 6, high = 7 }\n"),
            "my.toml:2: n: found low 6, value 5, high 7; allowed: low at most value, value at most high");
  EXPECT_EQ(complaint("based_on = \"grit-3-4\"\ninside_water = { value = 0.1, low = 0, high = 0.2 }\n"),
            "my.toml:2: inside_water: found low 0, high 0.2; allowed: all above 0 or all 0");
  EXPECT_EQ(
      complaint(
          "based_on = \"grit-3-4\"\n[jar_test]\nvolume_ml = 1000\ndry_g = 1450\nheight_cm = 12\nwater_to_fill_ml = "
          "430\nwater_drained_ml = 425\n"),
      "my.toml: jar_test.water_drained_ml: 0.42 of the jar drained; pores of this kind cannot do that; allowed: below "
      "0.4");
}

MediumWords grit_and_clay() {
  MediumWords words;
  words.recipe = "2 grit 3-4 mm, 1 fired-clay 2-4 mm";
  words.pots = "48";
  words.across = "8-9cm";
  words.sand = "0.3mm";
  return words;
}

TEST(MixMedium, AnswersTheGrowersQuestionInOneGo) {
  const auto mixed = mix_medium(grit_and_clay(), library());
  ASSERT_TRUE(mixed.ok()) << mixed.error().message();
  const std::string text = words_of(*mixed, [](std::string_view field) { return "the " + std::string(field); });
  EXPECT_NE(text.find("What to buy"), std::string::npos);
  EXPECT_NE(text.find("No, it washes into the medium at once"), std::string::npos);
  EXPECT_NE(text.find("much of it silica"), std::string::npos);
  EXPECT_NE(text.find("Assumed: one pocket in a pot (the cuttings)."), std::string::npos) << text;
  const std::string json = json_of(*mixed);
  EXPECT_NE(json.find("\"staying\": \"washes_in\""), std::string::npos);
  EXPECT_NE(json.find("\"one pocket in a pot (cuttings)\""), std::string::npos);
}

TEST(MixMedium, SaysWhatIsWrong) {
  const auto complaint = [](const std::function<void(MediumWords&)>& change) {
    MediumWords words = grit_and_clay();
    change(words);
    return message(read_medium_words(words, library()));
  };
  EXPECT_EQ(complaint([](MediumWords& w) { w.pots = "many"; }),
            "pots: found \"many\"; allowed: a whole number from 1 to 100000");
  EXPECT_EQ(complaint([](MediumWords& w) { w.across = ""; }),
            "across: the pots' width is missing; allowed: the inner width: \"9 cm\", or \"8-9 cm\" where it is 8 at "
            "the bottom "
            "and 9 at the top");
  EXPECT_EQ(complaint([](MediumWords& w) { w.height = "70 cm"; }),
            "height: a container 70 cm tall is outside what the model of drained pots covers; allowed: above 0, at "
            "most 60 cm, "
            "inside the container");
  EXPECT_EQ(complaint([](MediumWords& w) { w.hole = "3 cm"; }),
            "hole: found \"3 cm\"; allowed: two lengths such as \"1.5 x 3 cm\"");
  EXPECT_EQ(complaint([](MediumWords& w) { w.recipe = "0 grit 3-4 mm"; }),
            "recipe: the recipe sums to nothing; allowed: at least one part above 0");
}

TEST(MixFeed, AnswersTheGrowersQuestionInOneGo) {
  FeedWords words;
  words.fertilisers = {"20-10-20"};
  words.target = "100 N";
  words.volume = "9 L";
  const auto mixed = mix_feed(words, library());
  ASSERT_TRUE(mixed.ok()) << mixed.error().message();
  EXPECT_NE(words_of(*mixed, {}).find("4.5 g"), std::string::npos);
  EXPECT_NE(json_of(*mixed).find("\"grams\": 4.5"), std::string::npos);
}

TEST(MixFeed, SaysWhatIsWrong) {
  FeedWords words;
  words.fertilisers = {"20-10-20"};
  EXPECT_EQ(message(mix_feed(words, library())),
            "target: no strength is asked; allowed: <target> \"100 N\" (ppm), <phase> growth, or <grams> with the "
            "weight that went in");
  words.target = "100 N";
  words.volume = "2 gal";
  EXPECT_EQ(message(mix_feed(words, library())),
            "volume: \"gal\" means different things; allowed: gal-us (3.785 L) or gal-imp (4.546 L)");
  words.volume = "9 L";
  words.injector = "1:100";
  EXPECT_NE(message(mix_feed(words, library())).find("1 plus 100"), std::string::npos);
}

}  // namespace
}  // namespace strikebed::nursery
