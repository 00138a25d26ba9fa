// Disinfectants: strength and amounts undo each other, mass is kept, and wrong questions are refused in one line.
#include "mix/disinfectant.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "mix/alcohol.hpp"

namespace strikebed::mix {
namespace {

struct Amounts {
  const char* make = nullptr;
  const char* stock = nullptr;
  const char* water = nullptr;
};

DisinfectantRequest asked(const char* from, const char* target, const Amounts& amounts) {
  DisinfectantRequest request;
  request.from = *parse_agent(from, "");
  if (target) request.target = *parse_agent(target, "");
  if (amounts.make) request.make = *parse_amount(amounts.make, "");
  if (amounts.stock) request.stock = *parse_amount(amounts.stock, "");
  if (amounts.water) request.water = *parse_amount(amounts.water, "");
  request.made = make_date(2027, 5, 1);
  return request;
}

Disinfectant mixed(const DisinfectantRequest& request) {
  auto result = mix_disinfectant(request);
  EXPECT_TRUE(result.ok()) << (result.ok() ? "" : result.error().message());
  return result.ok() ? std::move(result).value() : Disinfectant{};
}

std::string complaint(const DisinfectantRequest& request) {
  const auto result = mix_disinfectant(request);
  return result.ok() ? "no error" : result.error().message();
}

std::string agent_complaint(const char* text) {
  const auto agent = parse_agent(text, "from");
  return agent.ok() ? "no error" : agent.error().message();
}

TEST(Alcohol, SharesByVolumeAndByMassUndoEachOther) {
  for (double pct = 0; pct <= 100; pct += 2.5) EXPECT_NEAR(ethanol_volume_pct(ethanol_mass_share(pct)), pct, 1e-9);
}

TEST(Alcohol, IsNeatAtOneAndWaterAtZero) {
  EXPECT_NEAR(ethanol_density_g_ml(0), kWaterDensity_g_ml, 2e-6);
  EXPECT_NEAR(ethanol_density_g_ml(1), 0.78924, 1e-5);  // OIML R 22
  for (double share = 0; share < 1; share += 0.01)
    EXPECT_GT(ethanol_density_g_ml(share), ethanol_density_g_ml(share + 0.01)) << share;
}

TEST(Ethanol, ShrinksWithWaterAndKeepsItsMass) {
  const Disinfectant d = mixed(asked("96 % ethanol", "70 % ethanol", {.make = "1 L"}));
  EXPECT_NEAR(d.stock_ml, 1000 * 70.0 / 96, 1e-9);
  EXPECT_GT(d.stock_ml + *d.water_ml, d.total_ml + 20);
  const auto mass = [](double ml, double pct) { return ml * ethanol_density_g_ml(ethanol_mass_share(pct)); };
  EXPECT_NEAR(mass(d.stock_ml, 96) + *d.water_ml * kWaterDensity_g_ml, mass(d.total_ml, 70), 1e-6);
}

// Whichever amount is given, the others are the same; and adding the water gives the target back.
TEST(Ethanol, SolvesInEveryDirection) {
  for (const double to : {90.0, 70.0, 50.0, 20.0}) {
    const std::string target = std::to_string(to) + " % ethanol";
    const Disinfectant by_total = mixed(asked("95 % ethanol", target.c_str(), {.make = "500 mL"}));
    const std::string water = std::to_string(*by_total.water_ml) + " mL";
    const std::string stock = std::to_string(by_total.stock_ml) + " mL";
    EXPECT_NEAR(mixed(asked("95 % ethanol", target.c_str(), {.stock = stock.c_str()})).total_ml, 500, 1e-4);
    EXPECT_NEAR(mixed(asked("95 % ethanol", target.c_str(), {.water = water.c_str()})).total_ml, 500, 1e-4);
    const DilutedEthanol back = add_water_to_ethanol(by_total.stock_ml, 95, *by_total.water_ml);
    EXPECT_NEAR(back.volume_pct, to, 1e-6);
    EXPECT_NEAR(back.volume_ml, 500, 1e-6);
    const Disinfectant analysed =
        mixed(asked("95 % ethanol", nullptr, {.stock = stock.c_str(), .water = water.c_str()}));
    EXPECT_NEAR(analysed.strength.value, to, 1e-4);
    EXPECT_NEAR(mixed(asked("95 % ethanol", nullptr, {.make = "500 mL", .water = water.c_str()})).stock_ml,
                by_total.stock_ml, 1e-4);
  }
}

TEST(Ethanol, OutsideItsUsefulRangeIsRemarkedOn) {
  const auto outside = std::vector{DisinfectantRemark::outside_useful};
  EXPECT_EQ(mixed(asked("96 % ethanol", "70 % ethanol", {.make = "1 L"})).remarks.size(), 0U);
  EXPECT_EQ(mixed(asked("96 % ethanol", "40 % ethanol", {.make = "1 L"})).remarks, outside);
  EXPECT_EQ(mixed(asked("99 % ethanol", "95 % ethanol", {.make = "1 L"})).remarks, outside);
}

TEST(Isopropyl, IsNotTreatedAsEthanol) {
  const Disinfectant d = mixed(asked("99 % isopropyl", "70 % isopropyl", {.make = "500 mL"}));
  EXPECT_NEAR(d.stock_ml, 500 * 70.0 / 99, 1e-9);
  EXPECT_FALSE(d.water_ml);
  EXPECT_EQ(complaint(asked("99 % isopropyl", "70 % isopropyl", {.water = "500 mL"})),
            "water: how much isopropyl alcohol and water shrink together is not known here; allowed: <make>: measure "
            "the alcohol, then fill up to the mark with water");
}

TEST(Hypochlorite, IsCountedAsAvailableChlorine) {
  const Disinfectant d = mixed(asked("5 % hypochlorite", "5000 ppm chlorine", {.make = "5 L"}));
  EXPECT_NEAR(d.stock_ml, 5000 * 5000 / 47625.0, 0.01);
  EXPECT_NEAR(d.stock_ml + *d.water_ml, 5000, 1e-9);
  EXPECT_EQ(to_iso(d.use_by), "2027-05-02");
  // By weight, with the density of household bleach (1.08 at 5 %).
  EXPECT_NEAR(parse_agent("5 % w/w hypochlorite", "")->strength.value, 47625 * 1.08, 5);
}

// 12.5 % by weight is 1.20 times as strong as in volume: the range reaches there, and a % that is said is not widened.
TEST(Hypochlorite, OfAPercentThatMayBeByWeightCoversBothReadings) {
  const Disinfectant bare = mixed(asked("12.5 % hypochlorite", "5000 ppm chlorine", {.make = "5 L"}));
  const Disinfectant said = mixed(asked("12.5 % w/v hypochlorite", "5000 ppm chlorine", {.make = "5 L"}));
  EXPECT_DOUBLE_EQ(bare.stock_ml, said.stock_ml);
  EXPECT_GT(bare.strength.high(), 5000 * 1.20);
  EXPECT_LT(said.strength.high(), 5000 * 1.20);
  const AgentStrength stock = *parse_agent("12.5 % hypochlorite", "");
  EXPECT_NEAR(*stock.if_by_weight, parse_agent("12.5 % w/w hypochlorite", "")->strength.value, 1e-9);
  EXPECT_FALSE(parse_agent("12.5 % w/w hypochlorite", "")->if_by_weight);
  EXPECT_FALSE(parse_agent("50000 ppm chlorine", "")->if_by_weight);
  EXPECT_FALSE(parse_agent("96 % ethanol", "")->if_by_weight);
  const auto assumes_volume = [](const Disinfectant& one) {
    return std::ranges::find(one.assumed, DisinfectantAssumption::percent_by_volume) != one.assumed.end();
  };
  EXPECT_TRUE(assumes_volume(bare));
  EXPECT_FALSE(assumes_volume(said));
}

// By hand, of 100 mL of 1 % +- 0 and 100 mL of water: u(s) / s = half of each amount's, limits over sqrt 3.
TEST(Disinfectant, IsAsSureAsWhatWasMeasured) {
  const auto relative = [](const char* stock, const char* water) {
    return mixed(asked("10000 +- 1 ppm chlorine", nullptr, {.stock = stock, .water = water})).strength.relative() *
           std::sqrt(3.0);
  };
  EXPECT_NEAR(relative("100 mL", "100 mL"), std::hypot(0.01, 0.01), 1e-4);
  EXPECT_NEAR(relative("100 +- 20 mL", "100 mL"), std::hypot(0.1, 0.01), 1e-3);
  EXPECT_NEAR(relative("100 mL", "100 +- 20 mL"), std::hypot(0.1, 0.01), 1e-3);
  const Disinfectant made = mixed(asked("96 % ethanol", "70 % ethanol", {.make = "500 +- 50 mL"}));
  EXPECT_NEAR(made.strength.relative() * std::sqrt(3.0), 0.1, 0.02);
}

TEST(Disinfectant, ThatNobodyCanMeasureIsRefused) {
  EXPECT_EQ(complaint(asked("96 % ethanol", "70 % ethanol", {.make = "0.001 mL"})),
            "make: 0.00073 mL is less than half a step of what measures it (marks every 0.02 mL); allowed: more at a "
            "time, finer marks, or in two steps: thin the stock first");
  DisinfectantRequest coarse = asked("96 % ethanol", "70 % ethanol", {.make = "100 mL"});
  coarse.instrument = *parse_instrument("cylinder 5 mL", "");
  EXPECT_EQ(mixed(coarse).remarks, std::vector{DisinfectantRemark::few_steps});
  coarse.instrument = *parse_instrument("cylinder 1 mL", "");
  EXPECT_TRUE(mixed(coarse).remarks.empty());
}

TEST(Disinfectant, WrongOnesAreRefusedInOneLine) {
  EXPECT_EQ(
      agent_complaint("5 % bleach"),
      "from: labels of bleach give one of two figures that are 5 % apart; allowed: \"5 % hypochlorite\" (sodium "
      "hypochlorite) or \"5 % chlorine\" (available or active chlorine); or, where a tenth of it shall be bleach, "
      "<target> as \"10 % bleach\"");
  EXPECT_EQ(agent_complaint("96 % etanol"),
            "from: the disinfectant \"etanol\" is not known; did you mean ethanol?; allowed: a strength and ethanol, "
            "isopropyl, alcohol, hypochlorite or chlorine (available), such as 96 % ethanol");
  EXPECT_EQ(agent_complaint("0 % ethanol"), "from: \"0 % ethanol\" is not above 0; allowed: a strength above 0");
  EXPECT_EQ(agent_complaint("960 % ethanol"),
            "from: \"960 % ethanol\" is more than there can be; allowed: up to 100 % v/v");
  EXPECT_EQ(agent_complaint("ethanol"),
            "from: \"ethanol\" has no strength; allowed: a strength and ethanol, isopropyl, alcohol, hypochlorite or "
            "chlorine "
            "(available), such as 96 % ethanol");
  EXPECT_EQ(
      complaint(asked("70 % ethanol", "96 % ethanol", {.make = "1 L"})),
      "target: the target, 96 % v/v ethanol, is not weaker than the stock, 70 % v/v ethanol; allowed: below 70 % v/v "
      "ethanol");
  EXPECT_EQ(complaint(asked("99 % isopropyl", "70 % ethanol", {.make = "1 L"})),
            "target: the stock is isopropyl alcohol, and the target is ethanol; allowed: the same of both");
  EXPECT_EQ(complaint(asked("96 % ethanol", "70 % ethanol", {})),
            "too little is given; allowed: <target> or <ratio> with one of <make>, <stock> and <water>; or two of "
            "these without a "
            "target");
  EXPECT_EQ(complaint(asked("96 % ethanol", "70 % ethanol", {.make = "3 g"})),
            "make: \"3 g\" is a weight, not a volume; allowed: " + units_of(Dimension::volume));
  EXPECT_EQ(complaint(asked("96 % ethanol", "70 % ethanol", {.make = "-1 L"})),
            "make: \"-1 L\" is not above 0; allowed: a volume above 0");
  EXPECT_EQ(complaint(asked("96 % ethanol", "70 +- 2 % ethanol", {.make = "1 L"})),
            "target: the limits of \"70 +- 2 % ethanol\" are not reckoned with: it is what is wanted; allowed: the "
            "strength alone");
  EXPECT_EQ(complaint(asked("96 % ethanol", nullptr, {.make = "1 L", .stock = "2 L"})),
            "stock: 2 L of the stock fill all of 1 L; allowed: less stock");
}

DisinfectantRequest asked_by(const char* from, Ratio ratio, const Amounts& amounts) {
  DisinfectantRequest request = asked(from, nullptr, amounts);
  request.ratio = ratio;
  return request;
}

// Ref  by hand: 5 % w/v of available chlorine is 50000 mg/L, a tenth of it 5000; 100 mL in 1 L. Ethanol made up to
// twice
//      its volume has half its strength.
TEST(DisinfectantRatio, IsOfTheMixtureOrOfTheWater) {
  const Disinfectant tenth = mixed(asked_by("5 % w/v chlorine", {.plus = false, .n = 10}, {.make = "1 L"}));
  EXPECT_NEAR(tenth.stock_ml, 100, 1e-9);
  EXPECT_NEAR(tenth.water_ml.value_or(0), 900, 1e-9);
  EXPECT_NEAR(tenth.strength.value, 5000, 1e-6);
  const Disinfectant plus_nine = mixed(asked_by("5 % w/v chlorine", {.plus = true, .n = 9}, {.water = "900 mL"}));
  EXPECT_NEAR(plus_nine.stock_ml, 100, 1e-9);
  EXPECT_NEAR(plus_nine.strength.value, 5000, 1e-6);
  EXPECT_NEAR(mixed(asked_by("96 % ethanol", {.plus = false, .n = 2}, {.make = "1 L"})).strength.value, 48, 1e-9);
  const Disinfectant shrunk = mixed(asked_by("96 % ethanol", {.plus = true, .n = 1}, {.stock = "500 mL"}));
  EXPECT_NEAR(shrunk.water_ml.value_or(0), 500, 1e-6) << "one part and one of water";
  EXPECT_LT(shrunk.total_ml, 1000);
}

TEST(DisinfectantRatio, WrongOnesAreRefusedInOneLine) {
  EXPECT_EQ(complaint(asked_by("99 % isopropyl", {.plus = true, .n = 1}, {.make = "1 L"})),
            "ratio: how much isopropyl alcohol and water shrink together is not known here; allowed: \"1 in 2\": one "
            "part, and water up to the mark of two");
  EXPECT_EQ(complaint(asked_by("5 % chlorine", {.plus = false, .n = 1}, {.make = "1 L"})),
            "ratio: 1 in 1 is the stock itself; allowed: more than 1");
  DisinfectantRequest both = asked("5 % chlorine", "500 ppm chlorine", {.make = "1 L"});
  both.ratio = Ratio{.plus = false, .n = 10};
  EXPECT_EQ(complaint(both), "ratio: both a target and a ratio are given; allowed: one of them");
}

TEST(DisinfectantShareOfBottle, IsOneInSoMany) {
  EXPECT_NEAR(share_of_bottle("10 % bleach").value_or(Ratio{}).n, 10, 1e-9);
  EXPECT_NEAR(share_of_bottle(" 2.5% Bleach ").value_or(Ratio{}).n, 40, 1e-9);
  for (const char* text : {"bleach", "0 % bleach", "100 % bleach", "10 bleach", "10 % chlorine", "% bleach"})
    EXPECT_FALSE(share_of_bottle(text)) << text;
}

TEST(DisinfectantAlcohol, IsTheOneThatTheOtherStrengthNamesElseEthanol) {
  const auto assumed_ethanol = [](const Disinfectant& d) {
    return std::ranges::find(d.assumed, DisinfectantAssumption::alcohol_as_ethanol) != d.assumed.end();
  };
  const Disinfectant bare = mixed(asked("96 % alcohol", "70 % alcohol", {.make = "1 L"}));
  EXPECT_EQ(bare.agent, Agent::ethanol);
  EXPECT_TRUE(assumed_ethanol(bare));
  const Disinfectant said = mixed(asked("96 % alcohol", "70 % ethanol", {.make = "1 L"}));
  EXPECT_FALSE(assumed_ethanol(said));
  EXPECT_EQ(said.stock_ml, bare.stock_ml);
  EXPECT_EQ(mixed(asked("99 % isopropyl", "70 % alcohol", {.make = "1 L"})).agent, Agent::isopropyl);
  EXPECT_EQ(mixed(asked("99 % alcohol", "70 % isopropyl", {.make = "1 L"})).agent, Agent::isopropyl);
}

}  // namespace
}  // namespace strikebed::mix
