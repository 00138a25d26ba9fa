// Amounts as they are written, the messages when they cannot be read, and the propagation of uncertainty.
#include "mix/amounts.hpp"

#include <gtest/gtest.h>

namespace strikebed::mix {
namespace {

double base_of(const char* text) {
  const auto amount = parse_amount(text, "");
  EXPECT_TRUE(amount.ok()) << text << ": " << (amount.ok() ? "" : amount.error().message());
  return amount.ok() ? amount->base() : -1;
}

std::string complaint(const char* text) {
  const auto amount = parse_amount(text, "water");
  EXPECT_FALSE(amount.ok()) << text;
  return amount.ok() ? "" : amount.error().message();
}

// Definitions: US gallon 231 cubic inches, imperial gallon 4.54609 L, ounce 28.349523125 g. Tolerance: rounding.
TEST(Amounts, AreReadInTheirUnits) {
  EXPECT_DOUBLE_EQ(base_of("3 tbsp-metric"), 45);
  EXPECT_NEAR(base_of("3 tbsp-us"), 44.360294, 1e-6);
  EXPECT_DOUBLE_EQ(base_of("3 tbsp-au"), 60);
  EXPECT_NEAR(base_of("2 gal-us"), 2 * 231 * 16.387064, 1e-9);
  EXPECT_NEAR(base_of("1 gal-imp"), 4546.09, 1e-9);
  EXPECT_NEAR(base_of("0.5 oz"), 14.1747615625, 1e-12);
  EXPECT_DOUBLE_EQ(base_of("250 ppm"), 250);
  EXPECT_DOUBLE_EQ(base_of("1 % w/v"), 10000);
  EXPECT_DOUBLE_EQ(base_of("1 g/L"), 1000);
  EXPECT_DOUBLE_EQ(base_of("5 mM"), 5);
  EXPECT_DOUBLE_EQ(base_of("5 mm"), 5);
  EXPECT_DOUBLE_EQ(base_of("2 in"), 50.8);
  EXPECT_DOUBLE_EQ(base_of("70 % v/v"), 70);
  EXPECT_DOUBLE_EQ(base_of("8 drops"), 8);
}

TEST(Amounts, MayBeSpelledInManyWays) {
  for (const char* text :
       {"3 metric tablespoons", "3 Tbsp-Metric", "3tbsp-metric", "3 tbsp metric", " 3  tbsp_metric "})
    EXPECT_DOUBLE_EQ(base_of(text), 45) << text;
  EXPECT_DOUBLE_EQ(base_of("1/2 tsp"), 2.5);
  EXPECT_DOUBLE_EQ(base_of("1 1/2 tsp"), 7.5);
  EXPECT_DOUBLE_EQ(base_of("0.3%w/v"), 3000);
  EXPECT_NEAR(base_of("4 us fl. oz"), 118.29411825, 1e-9);
  EXPECT_DOUBLE_EQ(base_of("1 drop"), 1);
}

TEST(Amounts, KeepMillimetresAndMillimolarApart) {
  EXPECT_EQ(parse_amount("5 mM", "")->dimension(), Dimension::molarity);
  EXPECT_EQ(parse_amount("5 mm", "")->dimension(), Dimension::length);
  EXPECT_EQ(
      complaint("5 MM"),
      "water: \"MM\" can be a length or a molar strength; allowed: mm (millimetres) or mM (millimoles in a litre)");
}

TEST(Amounts, ThatMeanDifferentThingsAreRefusedWithTheChoices) {
  EXPECT_EQ(
      complaint("3 tbsp"),
      "water: \"tbsp\" means different things; allowed: tbsp-us (14.8 mL), tbsp-metric (15 mL) or tbsp-au (20 mL)");
  EXPECT_EQ(complaint("2 gallons"),
            "water: \"gallons\" means different things; allowed: gal-us (3.785 L) or gal-imp (4.546 L)");
  EXPECT_EQ(complaint("2 fl oz"),
            "water: \"fl oz\" means different things; allowed: fl-oz-us (29.6 mL) or fl-oz-imp (28.4 mL)");
  EXPECT_EQ(complaint("1 %"),
            "water: \"%\" means different things; allowed: % w/v (grams in 100 mL), % v/v (mL in 100 mL) or % w/w "
            "(grams in 100 g)");
}

TEST(Amounts, OfAnUnknownUnitNameTheNearest) {
  EXPECT_EQ(complaint("3 tbps-metric"), "water: the unit \"tbps-metric\" is not known; did you mean tbsp-metric?");
  EXPECT_EQ(complaint("3 ppn"), "water: the unit \"ppn\" is not known; did you mean ppm?");
  EXPECT_EQ(complaint("1 tblsp"),
            "water: the unit \"tblsp\" is not known; did you mean tbsp?; allowed: tbsp-us (14.8 mL), tbsp-metric (15 "
            "mL) or tbsp-au (20 mL)");
  EXPECT_EQ(complaint("1 Tabelspoon"),
            "water: the unit \"Tabelspoon\" is not known; did you mean tablespoon?; allowed: tbsp-us (14.8 mL), "
            "tbsp-metric (15 mL) or tbsp-au (20 mL)");
  EXPECT_EQ(complaint("1 galon"),
            "water: the unit \"galon\" is not known; did you mean gallon?; allowed: gal-us (3.785 L) or gal-imp "
            "(4.546 L)");
  EXPECT_EQ(complaint("3 mll"), "water: the unit \"mll\" is not known; did you mean mL?");
  EXPECT_EQ(complaint("3 furlongs"),
            "water: the unit \"furlongs\" is not known; allowed: mL, L, tsp, tbsp-us, tbsp-metric, tbsp-au, mg, g, oz, "
            "ppm, % w/v, mM and more");
}

// What is expected decides between neighbours: pmm is one letter from mm and from ppm.
TEST(Amounts, OfAnUnknownUnitNameTheNearestThatIsExpected) {
  const auto nearest = [](const char* text, std::initializer_list<Dimension> expected) {
    return parse_amount(text, "", expected).error().message();
  };
  EXPECT_EQ(nearest("250 pmm", {Dimension::strength}), "the unit \"pmm\" is not known; did you mean ppm?");
  EXPECT_EQ(nearest("250 pmm", {Dimension::length}), "the unit \"pmm\" is not known; did you mean mm?");
  EXPECT_EQ(nearest("250 furlongs", {Dimension::strength}),
            "the unit \"furlongs\" is not known; allowed: ppm, mg/L, g/L, % w/v");
}

TEST(Amounts, MayBeWrittenWithAnExponent) {
  EXPECT_DOUBLE_EQ(base_of("1e-9 ppm"), 1e-9);
  EXPECT_DOUBLE_EQ(base_of("1E3 mL"), 1000);
  EXPECT_DOUBLE_EQ(base_of("2.5e+2mg"), 0.25);
  EXPECT_NEAR(measured(*parse_amount("1e2 +- 6e-1 mL", "")).u, 0.34641, 1e-5);
  EXPECT_FALSE(parse_amount("1e308 gal-us", "").ok());  // in mL no number any more
}

TEST(Amounts, ThatAreNoAmountsSaySo) {
  const std::string allowed = "; allowed: a number and a unit, such as 30 mL, 1/2 tsp or 250 ppm";
  EXPECT_EQ(complaint(""), "water: \"\" is no amount" + allowed);
  EXPECT_EQ(complaint("water"), "water: \"water\" does not start with a number" + allowed);
  EXPECT_EQ(complaint("30"), "water: \"30\" has no unit" + allowed);
  EXPECT_EQ(complaint("1/0 tsp"), "water: \"1/0 tsp\" does not start with a number" + allowed);
  EXPECT_EQ(complaint("1,5 mL"),
            "water: \"1,5 mL\" has a comma; write decimals with a point and thousands without any mark" + allowed);
  EXPECT_EQ(complaint("1e308 L"), "water: \"1e308 L\" is more than can be reckoned with" + allowed);
  EXPECT_EQ(complaint("10 +- mL"), "water: \"10 +- mL\" lacks a number behind +-" + allowed);
}

TEST(Amounts, OfAnotherDimensionOrNotAboveZeroAreRefused) {
  EXPECT_EQ(parse_positive("0.5 oz", Dimension::length, "width").error().message(),
            "width: \"0.5 oz\" is a weight, not a length; allowed: mm, cm, m, in");
  EXPECT_EQ(parse_positive("0 mm", Dimension::length, "width").error().message(),
            "width: \"0 mm\" is not above 0; allowed: a length above 0");
  EXPECT_EQ(parse_positive("-3 mm", Dimension::length, "width").error().message(),
            "width: \"-3 mm\" is not above 0; allowed: a length above 0");
  EXPECT_DOUBLE_EQ(parse_positive("9 cm", Dimension::length, "").value(), 90);
}

// Nothing a grower writes is dropped: where limits are not reckoned with, they are refused.
TEST(Amounts, LimitsAreKeptOrRefused) {
  EXPECT_EQ(parse_positive("9 +- 1 cm", Dimension::length, "height").error().message(),
            "height: the limits of \"9 ± 1 cm\" are not reckoned with here; allowed: the amount alone, \"9 cm\"");
  EXPECT_DOUBLE_EQ(parse_above_zero("9 +- 1 cm", Dimension::length, "")->plus_minus, 1);
  EXPECT_EQ(parse_above_zero("9 +- 9 L", Dimension::volume, "volume").error().message(),
            "volume: \"9 +- 9 L\" has limits as wide as itself; allowed: limits smaller than the amount");
}

// 2 % of a litre and 5 % of a spoon as limits: over sqrt 3.
TEST(Amounts, OfAVesselAreAsSureAsItsKind) {
  EXPECT_NEAR(measured_volume(*parse_amount("1 L", "")).u, 20 / std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(measured_volume(*parse_amount("1 tbsp-metric", "")).u, 0.75 / std::sqrt(3.0), 1e-12);
  EXPECT_NEAR(measured_volume(*parse_amount("1 +- 0.1 L", "")).u, 100 / std::sqrt(3.0), 1e-12);
}

TEST(Amounts, EveryUnitIsReadBackFromItsOwnName) {
  for (const Unit& unit : all_units()) {
    const auto amount = parse_amount("2.5 " + std::string(unit.name), "");
    ASSERT_TRUE(amount.ok()) << unit.name;
    EXPECT_EQ(amount->unit, &unit);
    EXPECT_EQ(to_text(*amount), "2.5 " + std::string(unit.name));
  }
}

// Limits of a rectangular distribution: 0.6 / sqrt 3 (GUM 4.3.7).
TEST(Amounts, MayCarryLimits) {
  for (const char* text : {"10 +- 0.6 mL", "10 ± 0.6 mL"}) {
    const auto amount = parse_amount(text, "");
    ASSERT_TRUE(amount.ok()) << text;
    EXPECT_NEAR(measured(*amount).u, 0.34641, 1e-5);
    EXPECT_EQ(to_text(*amount), "10 ± 0.6 mL");
  }
}

TEST(Amounts, ArePrintedToTheFiguresThatMeanSomething) {
  EXPECT_EQ(figures(0.12345, 3), "0.123");
  EXPECT_EQ(figures(253.7, 2), "250");
  EXPECT_EQ(figures(1.10, 3), "1.1");
  EXPECT_EQ(figures(9.996, 3), "10");
  EXPECT_EQ(figures(-0.0456, 2), "-0.046");
  EXPECT_EQ(figures(0, 3), "0");
}

TEST(Amounts, AreShownToTheDigitsThatSurvive) {
  EXPECT_EQ(digits(253.7, 64), "250");
  EXPECT_EQ(digits(253.7, 9.7), "254");
  EXPECT_EQ(digits(253.7, 0), "254");
  EXPECT_EQ(digits(253.7, 300), "300");
  EXPECT_EQ(digits(0.01234, 0.002), "0.012");
}

// Relative uncertainty of c v / (v + w) by hand: u(c)/c and (1 - f) of those of v and w, f = v / (v + w).
TEST(Measured, PropagatesToFirstOrder) {
  const Measured c{10000, 500};
  const Measured v{1, 0.06};
  const Measured w{9, 0.1};
  const Measured mixed = propagated(std::array{c, v, w}, [](const auto& x) { return x[0] * x[1] / (x[1] + x[2]); });
  EXPECT_DOUBLE_EQ(mixed.value, 1000);
  EXPECT_NEAR(mixed.relative(), std::sqrt(0.05 * 0.05 + 0.81 * (0.06 * 0.06 + 0.1 * 0.1 / 81)), 2e-4);
}

}  // namespace
}  // namespace strikebed::mix
