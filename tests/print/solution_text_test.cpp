// A solution and a disinfectant in words and as JSON: what the grower acts on is there, with its cautions.
#include "print/solution_text.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "print/disinfectant_text.hpp"
#include "print/solution_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

struct Mixed {
  mix::SolutionRequest request;
  mix::Solution solution;
};

Mixed drops_of_concentrate() {
  Mixed mixed;
  const mix::Solvent alcohol{mix::Solvent::Kind::alcohol, mix::kAlcoholRich_pct, 100};
  mixed.request.stock = *mix::parse_stock("1 % IBA + 0.5 % NAA", alcohol, "");
  mixed.request.target = *mix::parse_auxin_target("250 ppm IBA", mixed.request.stock, false, "");
  const mix::Amount spoons = *mix::parse_amount("3 tbsp-metric", "");
  mixed.request.bath = mix::Bath{mix::Filling::made_up_to, mix::measured_volume(spoons), mix::to_text(spoons), false};
  mixed.request.soak = mix::SoakTime{10};
  mixed.request.made = make_date(2027, 5, 1);
  mixed.solution = *mix::mix_solution(mixed.request);
  return mixed;
}

struct Disinfected {
  mix::DisinfectantRequest request;
  mix::Disinfectant disinfectant;
};

Disinfected from(const char* stock, const char* target) {
  Disinfected mixed;
  mixed.request.from = *mix::parse_agent(stock, "");
  mixed.request.target = *mix::parse_agent(target, "");
  mixed.request.make = *mix::parse_amount("500 mL", "");
  mixed.request.made = make_date(2027, 5, 1);
  mixed.disinfectant = *mix::mix_disinfectant(mixed.request);
  return mixed;
}

/// As the command line calls its fields.
std::string option_of(std::string_view field) { return "--" + std::string(field); }
std::string no_control(std::string_view) { return ""; }

/// What is said of a solution from this stock, mixed to the target in 100 mL of water.
std::vector<std::string> remarks_on(const char* stock, const char* target, const FieldNames& names,
                                    const mix::Solvent& solvent = {}, const char* instrument = nullptr) {
  mix::SolutionRequest request;
  request.stock = *mix::parse_stock(stock, solvent, "");
  request.target = *mix::parse_auxin_target(target, request.stock, false, "");
  request.bath = mix::Bath{mix::Filling::made_up_to, mix::jug_ml(100), "100 mL", false};
  if (instrument) request.instruments = {*mix::parse_instrument(instrument, "")};
  request.made = make_date(2027, 5, 1);
  return remark_sentences(request, *mix::mix_solution(request), names);
}

bool has(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

/// No number is missing or not finite: nlohmann writes those as null.
void expect_no_null(const nlohmann::json& json, const std::string& path) {
  EXPECT_FALSE(json.is_null()) << path;
  if (!json.is_structured()) return;
  for (const auto& [key, value] : json.items()) {
    if (key != "two_steps" && key != "step_ml" && key != "stock_strength") expect_no_null(value, path + "." + key);
  }
}

TEST(SolutionText, SaysWhatToTakeHowSureAndWhatToMind) {
  const Mixed mixed = drops_of_concentrate();
  const std::string text = solution_text(mixed.request, mixed.solution, option_of);
  for (const char* part :
       {"56 drops (53 to 59)", "120 to 380", "total auxin as IBA", "Use by Sat 1 May 2027", "ROOTING SOLUTION",
        "the label and local rules come first", "no flame", "low trust", "20 drops to the mL"})
    EXPECT_TRUE(has(replaced(replaced(text, "\n    ", " "), "\n  ", " "), part) || has(text, part)) << part << "\n"
                                                                                                    << text;
}

// Covers  one strength is said in one way and adds up: half of 252 is 126, and how far drops may be off is the range of
// the table, in the sentence at the top and in what to note.
TEST(SolutionText, ShowsNumbersThatAddUp) {
  const Mixed mixed = drops_of_concentrate();
  const std::string text =
      replaced(replaced(solution_text(mixed.request, mixed.solution, option_of), "\n    ", " "), "\n", " ");
  EXPECT_TRUE(has(text, "  IBA                 252  120 to 380")) << text;
  EXPECT_TRUE(has(text, " NAA                 126 "));
  EXPECT_TRUE(has(text, "IBA 252 ppm + NAA 126 ppm"));
  EXPECT_TRUE(has(text, "(drops not calibrated: 120 to 380 ppm IBA)")) << text;
  EXPECT_TRUE(has(text, "the strength is 120 to 380 ppm IBA."));
  EXPECT_FALSE(has(text, "up to 55 %"));
  EXPECT_FALSE(has(text, "25 %"));
}

// Covers  a salt is not shown beside its acid as if both were there.
TEST(SolutionText, ShowsASaltOnce) {
  Mixed mixed;
  mixed.request.stock = *mix::parse_stock("1 % K-IBA", {}, "");
  mixed.request.target = *mix::parse_auxin_target("500 ppm IBA", mixed.request.stock, false, "");
  mixed.request.bath = mix::Bath{mix::Filling::made_up_to, mix::jug_ml(100), "100 mL", false};
  mixed.request.made = make_date(2027, 5, 1);
  mixed.solution = *mix::mix_solution(mixed.request);
  const std::string text = solution_text(mixed.request, mixed.solution, option_of);
  EXPECT_TRUE(has(text, "\n  K-IBA "));
  EXPECT_FALSE(has(text, "\n  IBA "));
  EXPECT_TRUE(has(text, "\n  total auxin as IBA "));
}

TEST(SolutionText, ShowsOtherMeasuresBesideTheMetricOnes) {
  const Mixed mixed = drops_of_concentrate();
  const auto opening = [&](Beside beside) {
    return replaced(solution_text(mixed.request, mixed.solution, option_of, beside).substr(0, 320), "\n", " ");
  };
  // 1.125 mL are 0.228 of 4.929 mL; 45 mL are 3.04 of 14.787 mL and, as written, 3 of 15 mL.
  EXPECT_TRUE(has(opening(Beside::us), "which is 1.13 mL (0.228 tsp-us)")) << opening(Beside::us);
  EXPECT_TRUE(has(opening(Beside::us), "to 3 tbsp-metric (45 mL, 3.04 tbsp-us)")) << opening(Beside::us);
  EXPECT_TRUE(has(opening(Beside::imperial), "to 3 tbsp-metric (45 mL).")) << opening(Beside::imperial);
  EXPECT_FALSE(has(opening(Beside::nothing), "tsp"));
}

// NIST Handbook 44, appendix C: 128 fl oz and 768 tsp to the US gallon of 3785.41 mL, 160 fl oz to the imperial one of
// 4546.09 mL, 16 oz of 28.3495 g to the lb.
TEST(Measures, GoWithTheSizeOfTheAmount) {
  EXPECT_EQ(volume_beside(0.5, Beside::us), "");  // below the smallest spoon
  EXPECT_EQ(volume_beside(3785.41 / 768 * 2, Beside::us), "2 tsp-us");
  EXPECT_EQ(volume_beside(3785.41 / 256 * 3, Beside::us), "3 tbsp-us");
  EXPECT_EQ(volume_beside(3785.41 / 128 * 7, Beside::us), "7 fl-oz-us");
  EXPECT_EQ(volume_beside(3785.41 * 5, Beside::us), "5 gal-us");
  EXPECT_EQ(volume_beside(10, Beside::imperial), "2 tsp-metric");
  EXPECT_EQ(volume_beside(4546.09 / 160 * 7, Beside::imperial), "7 fl-oz-imp");
  EXPECT_EQ(volume_beside(4546.09 * 5, Beside::imperial), "5 gal-imp");
  EXPECT_EQ(volume_beside(500, Beside::nothing), "");
  EXPECT_EQ(weight_beside(28.3495 * 4, Beside::us), "4 oz");
  EXPECT_EQ(weight_beside(28.3495 * 40, Beside::imperial), "2.5 lb");
  EXPECT_EQ(weight_beside(0.02, Beside::us), "");
}

TEST(SolutionText, KeepsToItsWidthOutsideOfTables) {
  const Mixed mixed = drops_of_concentrate();
  const std::string text = solution_text(mixed.request, mixed.solution, option_of, Beside::nothing, 80);
  std::size_t start = text.find("Keeping");
  for (std::size_t end = text.find('\n', start); end != std::string::npos;
       start = end + 1, end = text.find('\n', start))
    EXPECT_LE(width_of(text.substr(start, end - start)), 80U);
}

TEST(SolutionText, TwoStepsNameMarksLabelsAndDays) {
  Mixed mixed;
  mixed.request.stock = *mix::parse_stock("1 % K-IBA", {}, "");
  mixed.request.target = *mix::parse_auxin_target("50 ppm IBA", mixed.request.stock, false, "");
  mixed.request.bath = mix::Bath{mix::Filling::made_up_to, mix::jug_ml(1000), "1 L", false};
  mixed.request.instruments = {*mix::parse_instrument("cylinder 1 mL", "")};
  mixed.request.made = make_date(2027, 5, 1);
  mixed.solution = *mix::mix_solution(mixed.request);
  const std::string text = solution_text(mixed.request, mixed.solution, option_of);
  for (const char* part : {"1. Make 20 mL of the stock (marks every 1 mL) up to", "(marks every 1 mL) and fill up",
                           "until Wed 30 Jun 2027", "ROOTING STOCK, TO BE THINNED", "ROOTING SOLUTION"})
    EXPECT_TRUE(has(replaced(replaced(text, "\n    ", " "), "\n  ", " "), part) || has(text, part)) << part << "\n"
                                                                                                    << text;
  const auto json = nlohmann::json::parse(solution_json(mixed.request, mixed.solution));
  const auto& steps = json["two_steps"];
  expect_no_null(steps, "");
  EXPECT_EQ(steps["first_with"], "marks");
  EXPECT_EQ(steps["second_step_ml"].get<double>(), 1);
  EXPECT_EQ(steps["second_ml"].get<double>(), std::round(steps["second_ml"].get<double>()));
  EXPECT_EQ(json["alcohol_leaves"], false);
}

TEST(SolutionJson, IsOneDocumentWithoutHoles) {
  const Mixed mixed = drops_of_concentrate();
  const auto json = nlohmann::json::parse(solution_json(mixed.request, mixed.solution));
  expect_no_null(json, "");
  EXPECT_DOUBLE_EQ(json["dose_ml"].get<double>(), 1.125);
  EXPECT_DOUBLE_EQ(json["total_ml"].get<double>(), 45);
  EXPECT_EQ(json["ways"][0]["with"], "drops");
  EXPECT_EQ(json["ways"][0]["steps_low"].get<double>(), 53);
  EXPECT_EQ(json["ways"][0]["steps_high"].get<double>(), 59);
  EXPECT_LE(json["ways"][0]["low_ppm"].get<double>(), json["ways"][0]["high_ppm"].get<double>());
  EXPECT_EQ(json["use_by"], "2027-05-01");
}

TEST(SolutionText, NamesTheControlsOfTheReader) {
  const mix::Solvent water{mix::Solvent::Kind::water, 0, 0};
  const auto on_stock = [&](const FieldNames& names) {
    return remarks_on("1 % IBA", "100 ppm IBA", names, water).at(0);
  };
  EXPECT_TRUE(has(on_stock(option_of), "at least half alcohol (--solvent), or be")) << on_stock(option_of);
  EXPECT_TRUE(has(on_stock(no_control), "at least half alcohol, or be"));
  const auto on_mixture = [](const FieldNames& names) { return remarks_on("1 % IBA", "300 ppm IBA", names).at(0); };
  EXPECT_TRUE(has(on_mixture(option_of), "ppm IBA is more than plain water dissolves")) << on_mixture(option_of);
  EXPECT_TRUE(has(on_mixture(option_of), "more alcohol (--into \"50 % ethanol\", for stocks)"));
  EXPECT_TRUE(has(on_mixture(no_control), "more alcohol (for stocks)"));
  const auto on_drops = [](const FieldNames& names) { return remarks_on("1 % IBA", "100 ppm IBA", names).at(0); };
  EXPECT_TRUE(has(on_drops(option_of), "give --calibration \"40 drops = 0.8 mL\".")) << on_drops(option_of);
  EXPECT_TRUE(has(on_drops({}), "give calibration \"40 drops = 0.8 mL\"."));
  EXPECT_FALSE(has(on_drops(no_control), "40 drops"));
  const auto on_steps = [](const FieldNames& names) {
    return remarks_on("1 % K-IBA", "250 ppm IBA", names, {}, "cylinder 5 mL").at(0);
  };
  EXPECT_TRUE(has(on_steps(option_of), "thin the stock first (--keep --ratio \"1 in 100\"), then"))
      << on_steps(option_of);
  EXPECT_TRUE(has(on_steps(no_control), "thin the stock first, then"));
}

TEST(SolutionText, SaysWhatWasTakenAsGiven) {
  mix::SolutionRequest request;
  request.stock = *mix::parse_stock("K-IBA powder", {}, "");
  request.target = *mix::parse_auxin_target("250 ppm", request.stock, false, "");
  request.bath = mix::Bath{mix::Filling::made_up_to, mix::jug_ml(100), "100 mL", false};
  const auto sentences = assumption_sentences(request, *mix::mix_solution(request));
  // 250 x 203.24 / 241.33 = 210.5.
  EXPECT_EQ(sentences.at(0),
            "250 ppm is read as of the salt, K-IBA, which is 211 ppm of the acid; write \"250 ppm IBA\" if the acid is "
            "meant.");
  EXPECT_TRUE(has(sentences.at(1), "taken to be pure"));
  EXPECT_TRUE(has(sentences.at(2), "100 mL is taken as 100 mL with a standard uncertainty of 1.2"));
}

TEST(SolutionText, LabelsTheBottle) {
  mix::SolutionRequest request;
  request.stock = *mix::parse_stock("1 % K-IBA", {}, "");
  request.target = *mix::parse_auxin_target("250 ppm K-IBA", request.stock, false, "");
  request.bath = mix::Bath{mix::Filling::made_up_to, mix::jug_ml(100), "100 mL", false};
  request.made = make_date(2027, 5, 1);
  const auto lines = label_lines(request, *mix::mix_solution(request));
  ASSERT_EQ(lines.size(), 5U);
  EXPECT_EQ(lines[0], "ROOTING SOLUTION");
  EXPECT_EQ(lines[1], "K-IBA 249 ppm");
  EXPECT_EQ(lines[3], "made 2027-05-01  use by 2027-05-01");
}

TEST(DisinfectantText, SaysWhatToTakeAndNeverWithWhat) {
  const Disinfected alcohol = from("96 % ethanol", "70 % ethanol");
  const std::string words = disinfectant_text(alcohol.request, alcohol.disinfectant, Beside::nothing);
  EXPECT_TRUE(has(words, "Take 365 mL of 96 % ethanol and 149 mL of water: 500 mL in all")) << words;
  EXPECT_TRUE(has(words, "no flame"));
  const Disinfected bleach = from("5 % hypochlorite", "5000 ppm chlorine");
  EXPECT_TRUE(has(disinfectant_text(bleach.request, bleach.disinfectant, Beside::us), "fl-oz-us"));
  EXPECT_TRUE(
      has(disinfectant_text(bleach.request, bleach.disinfectant, Beside::nothing), "Never mix bleach with acid"));
  const Disinfected isopropyl = from("99 % isopropyl", "70 % isopropyl");
  EXPECT_TRUE(has(disinfectant_text(isopropyl.request, isopropyl.disinfectant, Beside::nothing),
                  "fill up with water to 500 mL"));
}

TEST(DisinfectantJson, IsOneDocument) {
  const Disinfected alcohol = from("96 % ethanol", "70 % ethanol");
  const auto json = nlohmann::json::parse(disinfectant_json(alcohol.request, alcohol.disinfectant));
  expect_no_null(json, "");
  EXPECT_NEAR(json["stock_ml"].get<double>(), 364.583, 0.001);
  EXPECT_GT(json["shrinks_ml"].get<double>(), 13);
  const Disinfected isopropyl = from("99 % isopropyl", "70 % isopropyl");
  EXPECT_TRUE(
      nlohmann::json::parse(disinfectant_json(isopropyl.request, isopropyl.disinfectant))["water_ml"].is_null());
}

}  // namespace
}  // namespace strikebed::print
