// Solutions: mixing and analysing undo each other, nothing is lost, and wrong questions are refused in one line.
#include "mix/solution.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace strikebed::mix {
namespace {

const Solvent kUnknown;
const Solvent kAlcohol{Solvent::Kind::alcohol, kAlcoholRich_pct, 100};

Stock stock_of(const char* text, const Solvent& solvent = kUnknown) { return *parse_stock(text, solvent, ""); }

Bath bath_of(const char* text, Filling filling) {
  const Amount amount = *parse_amount(text, "");
  return {filling, measured_volume(amount), to_text(amount), false};
}

SolutionRequest asked(const char* from, const char* target, const char* volume, Filling filling = Filling::made_up_to,
                      const Solvent& solvent = kUnknown) {
  SolutionRequest request;
  request.stock = stock_of(from, solvent);
  if (target) request.target = *parse_auxin_target(target, request.stock, false, "");
  if (volume) request.bath = bath_of(volume, filling);
  request.made = make_date(2027, 5, 1);
  return request;
}

Solution mixed(const SolutionRequest& request) {
  auto solution = mix_solution(request);
  EXPECT_TRUE(solution.ok()) << (solution.ok() ? "" : solution.error().message());
  return solution.ok() ? std::move(solution).value() : Solution{};
}

std::string complaint(const SolutionRequest& request) {
  const auto solution = mix_solution(request);
  return solution.ok() ? "no error" : solution.error().message();
}

using Remark = SolutionRemarkKind;

/// The first remark of this kind, or null.
const SolutionRemark* remark_on(const Solution& solution, Remark kind) {
  const auto found = std::find_if(solution.remarks.begin(), solution.remarks.end(),
                                  [kind](const SolutionRemark& remark) { return remark.kind == kind; });
  return found == solution.remarks.end() ? nullptr : &*found;
}
bool remarks(const Solution& solution, Remark kind) { return remark_on(solution, kind) != nullptr; }

// The question of the grower with 1 % IBA + 0.5 % NAA in alcohol: 1.125 mL x 47 to 52 drops.
TEST(Solution, TellsDropsOfAnAlcoholConcentrate) {
  const Solution s = mixed(asked("1 % IBA + 0.5 % NAA", "250 ppm IBA", "3 tbsp-metric", Filling::made_up_to, kAlcohol));
  EXPECT_DOUBLE_EQ(s.dose.value, 1.125);
  ASSERT_EQ(s.ways.size(), 2U);
  EXPECT_EQ(s.ways[0].out.steps_low, 53);
  EXPECT_EQ(s.ways[0].out.steps, 56);
  EXPECT_EQ(s.ways[0].out.steps_high, 59);
  ASSERT_TRUE(remarks(s, Remark::uncalibrated_drops));
  // 47 to 52 drops to the mL where the rule counts 20.
  EXPECT_NEAR(remark_on(s, Remark::uncalibrated_drops)->short_by_rule_of_twenty, 1 - 20 / 49.5, 0.01);
  EXPECT_LT(s.ways[1].ppm.relative(), s.ways[0].ppm.relative() / 5);  // a syringe is far surer than drops
}

// Mixing to a target, then asking how strong that is, gives the target back; for every stock, unit and way of filling.
TEST(Solution, AnalysedAgainIsWhatWasAskedFor) {
  const char* const kStocks[] = {"1 % IBA", "10000 ppm K-IBA", "2 % NAA", "40 mM IBA", "1 % IBA + 0.5 % NAA"};
  const char* const kTargets[] = {"250 ppm total", "20 ppm total", "1.5 mM total"};
  for (const char* stock : kStocks) {
    for (const char* target : kTargets) {
      for (const Filling filling : {Filling::made_up_to, Filling::added_to}) {
        const SolutionRequest forth = asked(stock, target, "2 fl-oz-us", filling);
        const Solution there = mixed(forth);
        SolutionRequest back = asked(stock, nullptr, "2 fl-oz-us", filling);
        back.dose = Amount{there.dose.value, 0, *find_unit("mL")};
        const Solution again = mixed(back);
        const Measured all = mmol_in(back.stock, std::nullopt);
        EXPECT_NEAR(1000 * all.value * again.dose.value / again.total, forth.target->mmol, 1e-9) << stock << target;
        EXPECT_NEAR(again.strengths.back().mmol.value, forth.target->mmol, 1e-9) << stock << target;
        EXPECT_NEAR(there.dose.value + there.liquid, there.total, 1e-9);  // nothing is lost
      }
    }
  }
}

TEST(Solution, SaysHowFarADoseReaches) {
  SolutionRequest request = asked("K-IBA powder", "250 ppm IBA", nullptr);
  request.dose = *parse_amount("29.685 mg", "");
  EXPECT_NEAR(mixed(request).total, 100, 0.01);
}

TEST(Solution, OfARatioIsWhatTheWordsSay) {
  SolutionRequest request = asked("1 % IBA", nullptr, nullptr);
  request.ratio = Ratio{false, 10};
  EXPECT_NEAR(mixed(request).strengths.front().ppm.value, 1000, 1e-9);
  request.ratio = Ratio{true, 10};
  EXPECT_NEAR(mixed(request).strengths.front().ppm.value, 909.0909, 1e-4);
  request.bath = bath_of("110 mL", Filling::made_up_to);
  EXPECT_NEAR(mixed(request).dose.value, 10, 1e-9);
}

TEST(Solution, OfEightDropsInATablespoonIsUnsure) {
  SolutionRequest request = asked("1 % IBA", nullptr, "1 tbsp-us", Filling::added_to, kAlcohol);
  request.dose = *parse_amount("8 drops", "");
  const Strength strength = mixed(request).strengths.front();
  EXPECT_NEAR(strength.ppm.value, 1e4 * 0.162 / (14.787 + 0.162), 1);
  EXPECT_NEAR(strength.ppm.relative(), 0.28, 0.02);  // dropper 25 %, solvent 3 %, one of eight miscounted 12.5 %
  request.calibration = parse_calibration("40 drops = 0.8 mL", "").value();
  EXPECT_LT(mixed(request).strengths.front().ppm.relative(), 0.16);
}

double share_by(const TwoSteps& steps) {
  return steps.first.amount.value / steps.first_volume_ml * steps.second.amount.value / steps.total;
}

TEST(Solution, TooSmallToMeasureIsMadeInTwoSteps) {
  const Solution s = mixed(asked("1 % K-IBA", "20 ppm IBA", "20 mL"));
  ASSERT_TRUE(s.two_steps);
  // Stock in the first mixture, and of that in the second: the target again.
  const double share = share_by(*s.two_steps);
  EXPECT_NEAR(share / (s.dose.value / s.total), 1, 0.5 / kFairSteps);
  EXPECT_NEAR(s.strengths.front().ppm.value, 1e4 * share, 1e-9);
  EXPECT_GE(s.two_steps->first.steps, kFairSteps);
  EXPECT_GE(s.two_steps->second.steps, kFairSteps);
  EXPECT_LT(s.strengths.front().ppm.relative(), 0.05);
  EXPECT_FALSE(mixed(asked("1 % K-IBA", "250 ppm IBA", "100 mL")).two_steps);
}

// Covers  the first of two steps is no stronger than what dissolves. Ref  2 g, the least a scale to 0.1 g weighs
// fairly, of a salt that holds 20 g/L in water needs 100 mL; an acid goes into alcohol, at most 2 %.
TEST(Solution, TheFirstOfTwoStepsDissolves) {
  for (const auto& [stock, alcohol] : {std::pair{"K-IBA powder", false}, {"IBA powder", true}}) {
    SolutionRequest request = asked(stock, "200 ppm IBA", "200 mL");
    request.instruments = {*parse_instrument("scale 0.1 g", "")};
    const Solution s = mixed(request);
    ASSERT_TRUE(s.two_steps) << stock;
    EXPECT_EQ(s.two_steps->first_in_alcohol, alcohol);
    EXPECT_NEAR(s.two_steps->first.amount.value, 2, 1e-12);
    EXPECT_GE(s.two_steps->first_volume_ml, 100);
    EXPECT_NEAR(share_by(*s.two_steps) / (s.dose.value / s.total), 1, 0.5 / kFairSteps);
    EXPECT_EQ(to_iso(s.two_steps->first_keeping.use_by), alcohol ? "2028-04-30" : "2027-06-30");
    EXPECT_EQ(s.alcohol_high_pct > 0, alcohol);
  }
}

// Both steps in the grower's own marks: 20 mL of 1 mL marks at least, and no twentieth of a mark is asked for.
TEST(Solution, BothOfTwoStepsAreInTheGrowersMarks) {
  for (const Filling filling : {Filling::made_up_to, Filling::added_to}) {
    SolutionRequest request = asked("1 % K-IBA", "50 ppm IBA", "1 L", filling);
    request.instruments = {*parse_instrument("cylinder 1 mL", "")};
    const Solution s = mixed(request);
    ASSERT_TRUE(s.two_steps);
    for (const MeasuredOut& out : {s.two_steps->first, s.two_steps->second}) {
      EXPECT_DOUBLE_EQ(out.instrument.step, 1);
      EXPECT_GE(out.steps, kFairSteps);
      EXPECT_DOUBLE_EQ(out.amount.value, std::round(out.amount.value));
    }
    // What is printed is what these whole marks give: of 10000 ppm K-IBA, as IBA.
    const double ppm = 1e4 * share_by(*s.two_steps) * acid_equivalent(**find_auxin("K-IBA", ""));
    EXPECT_NEAR(s.strengths.back().ppm.value, ppm, 1e-9);
    EXPECT_NEAR(ppm, 50, 50 * 0.5 / kFairSteps);
    EXPECT_NEAR(s.two_steps->total, filling == Filling::added_to ? 1000 + s.two_steps->second.amount.value : 1000,
                1e-9);
  }
  // A scale for the powder and a cylinder for what it makes.
  SolutionRequest powder = asked("K-IBA powder", "50 ppm IBA", "1 L");
  powder.instruments = {*parse_instrument("scale 0.1 g", ""), *parse_instrument("cylinder 1 mL", "")};
  const Solution s = mixed(powder);
  ASSERT_TRUE(s.two_steps);
  ASSERT_EQ(s.ways.size(), 1U);
  EXPECT_DOUBLE_EQ(s.two_steps->first.instrument.step, 0.1);
  EXPECT_DOUBLE_EQ(s.two_steps->second.instrument.step, 1);
}

TEST(Solution, ThatNobodyCanMeasureIsRefused) {
  EXPECT_EQ(complaint(asked("1 % IBA", "0.000000001 ppm IBA", "30 mL")),
            "target: 0.000000000003 mL is less than half a step of what measures it (marks every 0.02 mL), and two "
            "steps do not mend that; allowed: a stronger target, more in all, or thin the stock first (<keep> with "
            "<ratio> \"1 in 100\") and ask again from that");
}

TEST(Solution, RemarksOnAStockThatCannotBe) {
  const Solvent water{Solvent::Kind::water, 0, 0};
  const auto stock_remark = [](const char* stock, const Solvent& solvent) {
    return mixed(asked(stock, "100 ppm IBA", "100 mL", Filling::made_up_to, solvent)).remarks;
  };
  const auto remarks_in_water = stock_remark("1 % IBA", water);
  ASSERT_FALSE(remarks_in_water.empty());
  EXPECT_EQ(remarks_in_water[0].kind, Remark::strong_stock);
  EXPECT_EQ(remarks_in_water[0].auxin, &auxin_of(Acid::iba));
  EXPECT_NEAR(remarks_in_water[0].ppm, 10000, 1e-6);
  const auto is_strong_stock = [](const SolutionRemark& remark) { return remark.kind == Remark::strong_stock; };
  EXPECT_TRUE(std::ranges::none_of(stock_remark("1 % K-IBA", water), is_strong_stock));
  EXPECT_TRUE(std::ranges::none_of(stock_remark("1 % IBA", kAlcohol), is_strong_stock));
  EXPECT_TRUE(std::ranges::none_of(stock_remark("1 % IBA", kUnknown), is_strong_stock));  // not said in what
}

using Assumed = SolutionAssumption;

bool assumes(const Solution& solution, Assumed what) {
  return std::ranges::find(solution.assumed, what) != solution.assumed.end();
}

TEST(Solution, SaysWhatItTookForGranted) {
  EXPECT_TRUE(assumes(mixed(asked("K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::pure_powder));
  EXPECT_FALSE(assumes(mixed(asked("98 % K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::pure_powder));
  EXPECT_TRUE(assumes(mixed(asked("98 % K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::exact_powder));
  EXPECT_FALSE(assumes(mixed(asked("98 +- 1 % K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::exact_powder));
  EXPECT_FALSE(assumes(mixed(asked("K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::exact_stock));
  EXPECT_TRUE(assumes(mixed(asked("1 % K-IBA", "250 ppm IBA", "100 mL")), Assumed::exact_stock));
  EXPECT_TRUE(assumes(mixed(asked("1 % K-IBA", "250 ppm IBA", "100 mL")), Assumed::percent_by_volume));
  EXPECT_FALSE(assumes(mixed(asked("1 % w/v K-IBA", "250 ppm IBA", "100 mL")), Assumed::percent_by_volume));
  EXPECT_TRUE(assumes(mixed(asked("K-IBA powder", "250 ppm", "100 mL")), Assumed::counted_as_salt));
  EXPECT_FALSE(assumes(mixed(asked("K-IBA powder", "250 ppm IBA", "100 mL")), Assumed::counted_as_salt));
  EXPECT_FALSE(assumes(mixed(asked("1 % IBA", "250 ppm", "100 mL")), Assumed::counted_as_salt));
}

// As unsure as the way it is counted: an unstated solvent may be off by far more than a half.
TEST(Solution, SaysHowFarUncalibratedDropsMayBeOff) {
  for (const Solvent& solvent : {kUnknown, kAlcohol}) {
    const Solution s = mixed(asked("1 % IBA", "250 ppm IBA", "3 tbsp-metric", Filling::made_up_to, solvent));
    ASSERT_TRUE(remarks(s, Remark::uncalibrated_drops));
    EXPECT_EQ(remark_on(s, Remark::uncalibrated_drops)->strength.u, s.ways.front().ppm.u);
  }
}

TEST(Solution, TheLimitsOfADoseOfDropsAreKept) {
  SolutionRequest request = asked("1 % IBA", nullptr, "30 mL", Filling::made_up_to, kAlcohol);
  request.calibration = parse_calibration("400 drops = 8 +- 0.01 mL", "").value();
  request.dose = *parse_amount("40 drops", "");
  const double before = mixed(request).dose.relative();
  request.dose = *parse_amount("40 +- 10 drops", "");
  EXPECT_NEAR(mixed(request).dose.relative(), std::hypot(before, 0.25 / std::sqrt(3.0)), 1e-9);
}

TEST(Solution, RemarksOnAnAcidThatDoesNotDissolve) {
  EXPECT_TRUE(remarks(mixed(asked("1 % IBA", "300 ppm IBA", "100 mL")), Remark::strong_mixture));
  EXPECT_FALSE(remarks(mixed(asked("1 % IBA", "240 ppm IBA", "100 mL")), Remark::strong_mixture));
  EXPECT_FALSE(remarks(mixed(asked("1 % K-IBA", "1000 ppm IBA", "100 mL")), Remark::strong_mixture));
  EXPECT_TRUE(remarks(mixed(asked("IBA powder", "100 ppm IBA", "100 mL")), Remark::acid_powder));
  EXPECT_FALSE(remarks(mixed(asked("K-IBA powder", "100 ppm IBA", "100 mL")), Remark::acid_powder));
}

TEST(Solution, CountsTheAlcoholInTheDip) {
  const Solvent neat{Solvent::Kind::ethanol, 100, 100};
  const Solution strong = mixed(asked("1 % IBA", "4000 ppm IBA", "50 mL", Filling::made_up_to, neat));
  EXPECT_NEAR(strong.alcohol_high_pct, 40, 0.1);
  EXPECT_TRUE(remarks(strong, Remark::much_alcohol));
  EXPECT_FALSE(
      remarks(mixed(asked("1 % IBA", "1000 ppm IBA", "50 mL", Filling::made_up_to, neat)), Remark::much_alcohol));
}

TEST(Solution, ForCuttingsFillsTheCupAsOftenAsNeeded) {
  SolutionRequest request = asked("1 % K-IBA", "1000 ppm IBA", nullptr);
  request.cup = CupDip{.cuttings = 120, .width_mm = 40, .depth_mm = 15};
  EXPECT_NEAR(mixed(request).total, 3 * 18.8496, 0.001);  // pi/4 x 40^2 x 15 mm3, 40 cuttings to a filling
  request.cup->cuttings = 121;
  EXPECT_EQ(fillings(*request.cup), 4);
}

TEST(Solution, KeepsForADayAStockForLonger) {
  SolutionRequest request = asked("K-IBA powder", "1 % K-IBA", "100 mL");
  EXPECT_EQ(to_iso(mixed(request).keeping.use_by), "2027-05-01");
  request.keep = true;
  EXPECT_EQ(to_iso(mixed(request).keeping.use_by), "2027-06-30");
  request.into = {Solvent::Kind::ethanol, 60, 60};
  EXPECT_EQ(to_iso(mixed(request).keeping.use_by), "2028-04-30");
}

TEST(Solution, WrongQuestionsAreRefusedInOneLine) {
  EXPECT_EQ(
      complaint(asked("1 % IBA", "2 % IBA", "10 mL")),
      "target: the target, 2 % w/v IBA, is not weaker than the stock, 10000 ppm IBA; allowed: below 10000 ppm IBA");
  EXPECT_EQ(complaint(asked("1 % IBA", "250 +- 10 ppm IBA", "10 mL")),
            "target: the limits of 250 ppm IBA are not reckoned with: it is what is wanted; allowed: the strength "
            "alone; limits where it was measured and the stock is asked (<stock> IBA)");
  EXPECT_EQ(parse_stock("1 % IBA + 1 % IBA", {}, "stock").error().message(),
            "stock: \"1 % IBA + 1 % IBA\" names IBA twice; allowed: each auxin once, with all there is of it");
  EXPECT_TRUE(parse_stock("1 % IBA + 1 % K-IBA", {}, "stock").ok());
  EXPECT_EQ(parse_stock("1 +- 2 % IBA", {}, "stock").error().message(),
            "stock: \"1 +- 2 % IBA\" has limits as wide as itself; allowed: limits smaller than the amount");
  EXPECT_EQ(complaint(asked("1 % IBA", "250 ppm NAA", "10 mL")), "target: the stock holds no NAA; allowed: IBA");
  EXPECT_EQ(complaint(asked("1 % IBA", "250 ppm IBA", nullptr)),
            "too little is given; allowed: two of <target>, <dose> and a volume (<made_up_to>, <added_to> or "
            "<cuttings>), or <ratio>");
  SolutionRequest request = asked("1 % IBA", "250 ppm IBA", "10 mL");
  request.dose = *parse_amount("1 mL", "");
  EXPECT_EQ(complaint(request),
            "target: a target, a dose and a volume are too many; allowed: two of <target>, <dose> and <made_up_to>");
  request.target.reset();
  request.dose = *parse_amount("12 mL", "");
  EXPECT_EQ(complaint(request),
            "dose: the dose, 12 mL, fills all of 10 mL; allowed: a dose smaller than the volume it is made up to");
  request.dose = *parse_amount("30 mg", "");
  EXPECT_EQ(complaint(request), "dose: \"30 mg\" is a weight, and the stock is a liquid; allowed: a volume or drops");
  request.dose = *parse_amount("0 mL", "");
  EXPECT_EQ(complaint(request), "dose: \"0 mL\" is not above 0; allowed: an amount above 0");
  EXPECT_EQ(complaint(asked("1 % IBA", "250 ppm IBA", "20000 L")),
            "made_up_to: \"20000 L\" is more than this is meant for; allowed: up to 10000 L");
  request = asked("IBA powder", "250 ppm IBA", "10 mL");
  request.instruments = {{Instrument::Kind::drops, 1}};
  EXPECT_EQ(complaint(request), "instruments: drops do not measure a powder; allowed: a scale");
  request = asked("0.3 % IBA talc", "250 ppm IBA", "10 mL");
  EXPECT_EQ(
      complaint(request),
      "stock: a talc is used as sold: it does not dissolve, and its auxin would not be evenly in a liquid; allowed: "
      "<talc>, to thin it with plain talc; or a liquid or a powder as the stock");
}

TEST(Solution, TooWeakForTwoStepsIsSaidSo) {
  SolutionRequest coarse = asked("1 % K-IBA", "250 ppm IBA", "50 mL");
  coarse.instruments = {*parse_instrument("cylinder 2 mL", "")};
  const Solution s = mixed(coarse);
  EXPECT_FALSE(s.two_steps);
  EXPECT_TRUE(remarks(s, Remark::too_coarse));
}

TEST(Solution, FromADoseIsAsUnsureAsTheDose) {
  SolutionRequest request = asked("1 % IBA", "1000 ppm IBA", nullptr, Filling::made_up_to, kAlcohol);
  request.dose = *parse_amount("20 drops", "");
  const Solution s = mixed(request);
  EXPECT_NEAR(s.strengths.front().ppm.value, 1000, 1e-9);
  EXPECT_NEAR(s.strengths.front().ppm.relative(), s.dose.relative(), 1e-9);
}

/// How strong the named stock must be for this target from this dose.
SolutionRequest asks_stock(const char* from, const char* target, const char* dose, const char* volume,
                           Filling filling = Filling::made_up_to, const Solvent& solvent = kUnknown) {
  SolutionRequest request;
  request.stock = *parse_stock(from, solvent, "stock", StockStrength::may_be_asked);
  const bool talc = request.stock.form == Form::talc;
  request.target = *parse_auxin_target(target, request.stock, talc, "");
  if (dose) request.dose = *parse_amount(dose, "");
  if (volume) request.bath = bath_of(volume, filling);
  if (talc) request.bath->of_talc = true;
  request.made = make_date(2027, 5, 1);
  return request;
}

// Mix from a known stock, then ask from the amounts and the strength obtained what the stock must have been: the stock.
TEST(SolutionStock, IsFoundAgainFromWhatItGave) {
  for (const char* name : {"IBA", "K-IBA", "NAA", "K-NAA"}) {
    for (const char* strength : {"1 %", "0.2 %", "50 mM", "20000 ppm"}) {
      for (const char* dose : {"0.4 mL", "1 tsp-us", "20 drops"}) {
        for (const Filling filling : {Filling::made_up_to, Filling::added_to}) {
          const std::string from = std::string(strength) + " " + name;
          SolutionRequest forth = asked(from.c_str(), nullptr, "2 fl-oz-us", filling);
          forth.dose = *parse_amount(dose, "");
          const Solution there = mixed(forth);
          SolutionRequest back = asks_stock(name, "1 ppm", dose, "2 fl-oz-us", filling);
          back.target->mmol = there.strengths.front().mmol.value;
          const Solution again = mixed(back);
          ASSERT_TRUE(again.stock) << from;
          EXPECT_NEAR(again.stock->mmol.value / (1000 * forth.stock.ingredients.front().mmol.value), 1, 1e-12) << from;
          EXPECT_EQ(again.stock->name, name);
          // The rest of the answer is that of a stock of this strength.
          EXPECT_NEAR(again.strengths.front().ppm.value, there.strengths.front().ppm.value, 1e-9);
          EXPECT_NEAR(again.strengths.front().ppm.u, there.strengths.front().ppm.u, 1e-9);
        }
      }
    }
  }
}

// 250 ppm from 1 mL in 40 mL: forty times as strong, 1 %. A ratio of 1 plus 39 is the same.
TEST(SolutionStock, FollowsFromDilutionByHand) {
  EXPECT_NEAR(mixed(asks_stock("IBA", "250 ppm", "1 mL", "40 mL")).stock->ppm.value, 10000, 1e-9);
  EXPECT_NEAR(mixed(asks_stock("IBA", "250 ppm", "1 mL", "39 mL", Filling::added_to)).stock->ppm.value, 10000, 1e-9);
  SolutionRequest ratio = asks_stock("IBA", "250 ppm", nullptr, nullptr);
  ratio.ratio = Ratio{true, 39};
  EXPECT_NEAR(mixed(ratio).stock->ppm.value, 10000, 1e-9);
  // 250 ppm IBA is 1.230 mM and 296.8 ppm of its potassium salt.
  EXPECT_NEAR(mixed(asks_stock("K-IBA", "250 ppm IBA", "1 mL", "40 mL")).stock->ppm.value, 11874, 1);
  // 10 g of talc in 50 g to 1000 mg/kg: 5000 mg/kg.
  EXPECT_NEAR(mixed(asks_stock("IBA talc", "0.1 % IBA", "10 g", "50 g")).stock->ppm.value, 5000, 1e-9);
}

// A wanted strength is as unsure as the drops; a measured one is known, and its error goes into the stock.
TEST(SolutionStock, IsAsUnsureAsWhatItFollowsFrom) {
  const Solution wanted = mixed(asks_stock("IBA", "250 ppm", "20 drops", "50 mL", Filling::made_up_to, kAlcohol));
  // Of 1 / share over half a range of 25 % the half difference is a quarter cubed larger.
  EXPECT_NEAR(wanted.stock->ppm.relative(), wanted.strengths.front().ppm.relative(), 0.02);
  EXPECT_GT(wanted.stock->ppm.relative(), 0.2);  // a dropper is 25 % unsure
  const Solution measured_ml = mixed(asks_stock("IBA", "250 +- 25 ppm", "1 +- 0 mL", "50 +- 0.001 mL"));
  EXPECT_NEAR(measured_ml.strengths.front().ppm.relative(), 0.1 / std::sqrt(3), 1e-6);
  EXPECT_NEAR(measured_ml.stock->ppm.relative(), std::hypot(0.1, 0.02) / std::sqrt(3), 1e-3);  // and 2 % of the mL
}

TEST(SolutionStock, ThatCannotBeIsRefusedOrRemarkedOn) {
  EXPECT_EQ(complaint(asks_stock("IBA", "20000 ppm", "1 mL", "100 mL")),
            "target: the stock would have to hold more than all of it, 2 kg IBA in one L; allowed: more of the stock, "
            "less of the mixture, or a weaker target");
  EXPECT_EQ(complaint(asks_stock("IBA", "250 ppm NAA", "1 mL", "100 mL")),
            "target: the stock holds no NAA; allowed: IBA");
  EXPECT_EQ(complaint(asks_stock("IBA", "250 ppm", "12 mL", "10 mL")),
            "dose: the dose, 12 mL, fills all of 10 mL; allowed: a dose smaller than the volume it is made up to");
  const std::string no_strength =
      "stock: \"IBA\" has no strength; allowed: a strength and an auxin, such as 1 % IBA or 0.3 % IBA talc; or "
      "<target> with <ratio>, or with <dose> and a volume: then the strength of the stock is the answer";
  EXPECT_EQ(complaint(asks_stock("IBA", "250 ppm", nullptr, "10 mL")), no_strength);
  EXPECT_EQ(complaint(asks_stock("IBA", "250 ppm", "1 mL", nullptr)), no_strength);
  EXPECT_FALSE(parse_stock("IBA", kUnknown, "").ok());  // where it is no question, it is a slip
  EXPECT_FALSE(parse_stock("IBA + 1 % NAA", kUnknown, "", StockStrength::may_be_asked).ok());
  EXPECT_TRUE(remarks(mixed(asks_stock("IBA", "250 ppm", "1 mL", "40 mL")), Remark::strong_stock));
  EXPECT_FALSE(remarks(mixed(asks_stock("IBA", "250 ppm", "1 mL", "40 mL", Filling::made_up_to, kAlcohol)),
                       Remark::strong_stock));
  EXPECT_TRUE(remarks(mixed(asks_stock("K-IBA", "2500 ppm", "1 mL", "40 mL")), Remark::strong_stock));
}

TEST(Ratio, IsNeverGuessed) {
  EXPECT_EQ(
      parse_ratio("1:10", "ratio").error().message(),
      "ratio: \"1:10\" is read in two ways; allowed: \"1 in 10\" (one part in 10 parts of mixture) or \"1 plus 10\" "
      "(one part and 10 of water)");
  EXPECT_EQ(parse_ratio("1 in 0", "ratio").error().message(), "ratio: found 0; allowed: from 1 to 10000");
  EXPECT_EQ(
      parse_ratio("one to ten", "ratio").error().message(),
      "ratio: \"one to ten\" is no ratio; allowed: \"1 in 10\" (one part in 10 parts of mixture) or \"1 plus 10\" "
      "(one part and 10 of water)");
  EXPECT_EQ(to_text(*parse_ratio("1 plus 10", "")), "1 plus 10");
}

}  // namespace
}  // namespace strikebed::mix
