// Auxins: what is read, what an acid equivalent is, how dose and response behave, and the messages of wrong input.
#include "mix/auxin.hpp"

#include <gtest/gtest.h>

namespace strikebed::mix {
namespace {

const Solvent kUnknown;
const Solvent kAlcohol{Solvent::Kind::alcohol, kAlcoholRich_pct, 100};

Stock stock_of(const char* text, const Solvent& solvent = kUnknown) {
  auto stock = parse_stock(text, solvent, "stock");
  EXPECT_TRUE(stock.ok()) << (stock.ok() ? "" : stock.error().message());
  return stock.ok() ? std::move(stock).value() : Stock{};
}

std::string stock_complaint(const char* text, const Solvent& solvent = kUnknown) {
  const auto stock = parse_stock(text, solvent, "stock");
  return stock.ok() ? "no error" : stock.error().message();
}

std::string target_complaint(const char* text, const Stock& stock, bool dry = false) {
  const auto target = parse_auxin_target(text, stock, dry, "target");
  return target.ok() ? "no error" : target.error().message();
}

/// Potassium for hydrogen: 39.098 - 1.008 g/mol heavier. From the formulae and IUPAC atomic masses, to 0.02 g/mol.
TEST(Auxin, SaltsWeighOnePotassiumMoreAndOneHydrogenLess) {
  for (const Acid acid : {Acid::iba, Acid::naa}) {
    const Auxin& plain = auxin_of(acid);
    const Auxin& salt = **find_auxin("K-" + std::string(plain.name), "");
    EXPECT_NEAR(salt.molar_mass_g_mol - plain.molar_mass_g_mol, 39.098 - 1.008, 0.02);
    EXPECT_LT(acid_equivalent(salt), 1);
    EXPECT_DOUBLE_EQ(acid_equivalent(plain), 1);
  }
}

TEST(Auxin, IsFoundHoweverItIsWritten) {
  for (const char* name : {"K-IBA", "k-iba", "KIBA"}) EXPECT_EQ((**find_auxin(name, "")).name, "K-IBA") << name;
  EXPECT_EQ(find_auxin("IAB", "stock").error().message(),
            "stock: the auxin \"IAB\" is not known; did you mean IBA?; allowed: IBA, K-IBA, NAA or K-NAA");
}

TEST(Auxin, PpmAndMillimolarUndoEachOther) {
  for (const char* name : {"IBA", "K-IBA", "NAA", "K-NAA"}) {
    const Auxin& auxin = **find_auxin(name, "");
    EXPECT_NEAR(ppm_from_mm(mm_from_ppm(1234, auxin), auxin), 1234, 1e-9);
  }
}

TEST(Stock, IsReadWithItsStrengths) {
  const Stock stock = stock_of("1 % IBA + 0.5 % NAA", kAlcohol);
  ASSERT_EQ(stock.ingredients.size(), 2U);
  EXPECT_TRUE(stock.percent_was_bare);
  EXPECT_NEAR(stock.ingredients[0].mmol.value, 10.0 / 203.24, 1e-9);  // 10 mg in a mL
  EXPECT_NEAR(stock.ingredients[1].mmol.value, 5.0 / 186.21, 1e-9);
  EXPECT_NEAR(mmol_in(stock, std::nullopt).value, 10.0 / 203.24 + 5.0 / 186.21, 1e-9);
  EXPECT_FALSE(stock_of("10000 ppm IBA").percent_was_bare);
}

TEST(Stock, MayBePowderOrTalc) {
  EXPECT_NEAR(stock_of("K-IBA powder").ingredients[0].mmol.value, 1000 / 241.33, 1e-9);
  EXPECT_NEAR(stock_of("98 % K-IBA powder").ingredients[0].mmol.value, 980 / 241.33, 1e-9);
  EXPECT_NEAR(stock_of("0.3 % IBA talc").ingredients[0].mmol.value, 3 / 203.24, 1e-9);
  EXPECT_NEAR(stock_of("3000 ppm IBA talc").ingredients[0].mmol.value, 3 / 203.24, 1e-9);
}

// 1 g in 100 g of neat ethanol (0.78924 g/mL, OIML R 22): 7.8924 mg in a mL.
TEST(Stock, ByWeightNeedsTheDensityOfItsSolvent) {
  const Solvent neat{Solvent::Kind::ethanol, 100, 100};
  EXPECT_NEAR(stock_of("1 % w/w IBA", neat).ingredients[0].mmol.value * 203.24, 7.8924, 1e-3);
  EXPECT_EQ(
      stock_complaint("1 % w/w IBA"),
      "stock: \"1 % w/w IBA\" is by weight, and the density of the liquid is not known; allowed: % w/v (grams in 100 "
      "mL), or say the solvent as well");
}

TEST(Stock, CarriesTheErrorOfItsLabel) {
  const Stock stock = stock_of("1 +- 0.1 % IBA");
  EXPECT_NEAR(stock.ingredients[0].mmol.relative(), 0.1 / std::sqrt(3.0), 1e-9);
}

TEST(Stock, WrongOnesAreRefusedInOneLine) {
  EXPECT_EQ(stock_complaint("1 % IBB"),
            "stock: the auxin \"IBB\" is not known; did you mean IBA?; allowed: IBA, K-IBA, NAA or K-NAA");
  EXPECT_EQ(
      stock_complaint("IBA"),
      "stock: \"IBA\" has no strength; allowed: a strength and an auxin, such as 1 % IBA, 5000 ppm NAA, 0.3 % IBA "
      "talc or K-IBA powder");
  EXPECT_EQ(stock_complaint("0 % IBA"), "stock: \"0 % IBA\" is not above 0; allowed: a strength above 0");
  EXPECT_EQ(stock_complaint("-1 % IBA"), "stock: \"-1 % IBA\" is not above 0; allowed: a strength above 0");
  EXPECT_EQ(stock_complaint("3 mL IBA"), "stock: \"3 mL IBA\" is a volume, not a strength; allowed: %, ppm, g/L or mM");
  EXPECT_EQ(stock_complaint("120 % IBA"), "stock: \"120 % IBA\" is more than all of it; allowed: up to 100 %");
  EXPECT_EQ(stock_complaint("120 % IBA talc"), "stock: \"120 % IBA\" is more than all of it; allowed: up to 100 %");
}

TEST(Stock, WhatIsUsedAsSoldIsNotMixedWith) {
  const std::string instead =
      "; allowed: a liquid of known strength, such as 1 % IBA, or a powder, such as K-IBA powder";
  EXPECT_EQ(stock_complaint("0.3 % IBA gel"),
            "stock: \"0.3 % IBA gel\": a gel is used as sold: it does not thin evenly, and what thickens it needs its "
            "own strength" +
                instead);
  for (const char* text : {"0.1 % IBA ready-made", "IBA ready to use", "0.5 % IBA paste"})
    EXPECT_NE(stock_complaint(text).find("used as sold"), std::string::npos) << text;
}

TEST(Target, IsCountedByMole) {
  const Stock both = stock_of("1 % IBA + 0.5 % NAA", kAlcohol);
  EXPECT_NEAR(parse_auxin_target("250 ppm IBA", both, false, "")->mmol, 250 / 203.24, 1e-9);
  EXPECT_NEAR(parse_auxin_target("1.2 mM NAA", both, false, "")->mmol, 1.2, 1e-12);
  EXPECT_NEAR(parse_auxin_target("250 ppm total", both, false, "")->mmol, 250 / 203.24, 1e-9);
  EXPECT_NEAR(parse_auxin_target("250 ppm", stock_of("1 % K-IBA"), false, "")->mmol, 250 / 241.33, 1e-9);
}

TEST(Target, WrongOnesAreRefusedInOneLine) {
  const Stock both = stock_of("1 % IBA + 0.5 % NAA", kAlcohol);
  EXPECT_EQ(
      target_complaint("250 ppm", both),
      "target: \"250 ppm\" does not say of which auxin, and the stock holds several; allowed: 250 ppm IBA, 250 ppm "
      "NAA or 250 ppm total (all together as IBA by mole)");
  EXPECT_EQ(target_complaint("250 ppm XBA", both),
            "target: the auxin \"XBA\" is not known; did you mean IBA?; allowed: IBA, K-IBA, NAA or K-NAA");
  EXPECT_EQ(target_complaint("0 ppm IBA", both), "target: \"0 ppm\" is not above 0; allowed: a strength above 0");
  EXPECT_EQ(target_complaint("250 ppn IBA", both), "target: the unit \"ppn\" is not known; did you mean ppm?");
}

TEST(Dose, GrowsWithStrengthAndSlowlyWithTime) {
  EXPECT_DOUBLE_EQ(dose_index_ppm(1000, 5), 1000);
  EXPECT_NEAR(dose_index_ppm(1000, 80), 2000, 1e-9);  // 16 times as long, by the fourth root
}

// The two facts the exponent was chosen between (docs/methods/auxin-solutions.md): 1423 ppm for 5 s against 250 ppm for
// a day need 0.18, 3000 ppm for 5 s against 100 ppm for a day 0.35.
TEST(Dose, ExponentLiesBetweenTheTwoPublishedPairs) {
  const double day = 86400;
  EXPECT_NEAR(dose_index_ppm(250, day, 0.18), 1423, 30);
  EXPECT_NEAR(dose_index_ppm(100, day, 0.35), 3000, 100);
}

TEST(Response, IsAHumpThatBurnsAtItsHighEnd) {
  EXPECT_DOUBLE_EQ(rooted_share(0), 0.30);
  EXPECT_GT(rooted_share(1200), rooted_share(300));
  EXPECT_GT(rooted_share(1200), rooted_share(8000));
  EXPECT_NEAR(burnt_share(8000), 0.5, 1e-12);
  EXPECT_LT(rooted_share(60000), 0.01);
  for (double dose = 1; dose < 1e5; dose *= 1.5) {
    EXPECT_GE(rooted_share(dose), 0);
    EXPECT_LE(rooted_share(dose), 0.68);
    EXPECT_LE(burnt_share(dose), burnt_share(dose * 1.5));
  }
}

TEST(Response, OfTheReferenceDipItselfIsOneWithoutAnyDoubt) {
  const DipComparison same = compare_dip(1200, 5, 1200, 5);
  EXPECT_DOUBLE_EQ(same.ratio, 1);
  EXPECT_DOUBLE_EQ(same.ratio_low, 1);
  EXPECT_DOUBLE_EQ(same.ratio_high, 1);
  const DipComparison weaker = compare_dip(250, 60, 1200, 5);
  EXPECT_LE(weaker.ratio_low, weaker.ratio);
  EXPECT_GE(weaker.ratio_high, weaker.ratio);
  EXPECT_LT(weaker.burnt, same.burnt);
}

TEST(Solvent, IsReadWithItsShare) {
  const auto half = parse_solvent("50 % ethanol", "");
  ASSERT_TRUE(half.ok());
  EXPECT_EQ(half->kind, Solvent::Kind::ethanol);
  EXPECT_DOUBLE_EQ(half->low_pct, 50);
  EXPECT_DOUBLE_EQ(parse_solvent("70 % v/v isopropyl alcohol", "")->high_pct, 70);
  EXPECT_DOUBLE_EQ(parse_solvent("alcohol", "")->high_pct, 100);
  EXPECT_EQ(parse_solvent("etanol", "solvent").error().message(),
            "solvent: the solvent \"etanol\" is not known; did you mean ethanol?; allowed: water, alcohol, ethanol or "
            "isopropyl, each alcohol with its share if known: 50 % ethanol");
  EXPECT_EQ(parse_solvent("120 % ethanol", "solvent").error().message(),
            "solvent: \"120 % ethanol\" is more than all of it; allowed: up to 100 %");
}

}  // namespace
}  // namespace strikebed::mix
