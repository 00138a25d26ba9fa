#pragma once
// Alcohol and hypochlorite for blades, benches and pots, at a stated strength. docs/methods/disinfectants.md
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "mix/amounts.hpp"
#include "mix/instrument.hpp"
#include "mix/ratio.hpp"

namespace strikebed::mix {

enum class Agent { ethanol, isopropyl, chlorine };

/// Mass of available chlorine in one mass of sodium hypochlorite: Cl2 70.906 over NaOCl 74.442 g/mol.
inline constexpr double kChlorineInHypochlorite = 70.906 / 74.442;

/// "96 % ethanol", "99 % isopropyl" (% v/v), "5 % hypochlorite", "5 % chlorine" (read as % w/v; "5 % w/w hypochlorite"
/// by a usual density), "500 ppm chlorine". strength: % v/v of an alcohol, mg/L available chlorine.
struct AgentStrength {
  Agent agent = Agent::ethanol;
  Measured strength;
  std::string words;  ///< as the grower wrote it
  /// mg/L if the bare % of a bleach, which is read as % w/v, were % w/w; nothing where it is said or of alcohol.
  std::optional<double> if_by_weight;
  bool any_alcohol = false;  ///< "alcohol": that of the other strength, else ethanol
};
/// Errors: "bleach" (which figure is on the label?), an unknown agent, not above 0, more than all of it.
[[nodiscard]] Result<AgentStrength> parse_agent(std::string_view text, std::string_view field);

/// "10 % bleach" as what is wanted: so much of the bottle in the mixture, 1 in 10. Nothing: it is no such text.
[[nodiscard]] std::optional<Ratio> share_of_bottle(std::string_view text);

struct DisinfectantRequest {
  AgentStrength from;
  std::optional<AgentStrength> target;
  std::optional<Ratio> ratio;   ///< instead of a target
  std::string bottle_words;     ///< "10 % bleach", which was read as that ratio; empty: a ratio was written
  std::optional<Amount> make;   ///< so much in the end, made up to the mark
  std::optional<Amount> stock;  ///< so much of the stock
  std::optional<Amount> water;  ///< so much water added
  std::optional<Instrument> instrument;
  Date made = {};
};

/// How it is used, by what it is and how strong (common practice).
enum class Contact {
  wiped,         ///< alcohol: kept wet for 30 s to 1 min, dries by itself
  ten_minutes,   ///< 4500 ppm of chlorine or more
  half_an_hour,  ///< 900 ppm or more
  by_the_label,  ///< weaker: for what is clean already
};

/// What to mind about it.
enum class DisinfectantRemark {
  outside_useful,  ///< alcohol below kWeakestUseful_pct or above kStrongestUseful_pct
  few_steps,       ///< the stock is fewer than kFairSteps steps of what measures it
  ageing,          ///< of bleach, and it corrodes
};

/// What was taken as given.
enum class DisinfectantAssumption {
  stock_tolerance,     ///< the stock's strength is good to kAlcoholTolerance or kBleachTolerance of it
  percent_by_volume,   ///< a bare % of bleach is % w/v; the strength covers % w/w too
  chlorine_units,      ///< ppm is mg available chlorine in one litre, volumes add up
  alcohol_units,       ///< % is mL of pure alcohol in 100 mL at 20 °C
  unknown_shrinking,   ///< of isopropyl alcohol and water
  share_of_bottle,     ///< a % of bleach as the target is so much of the bottle in the mixture
  alcohol_as_ethanol,  ///< "alcohol" is read as ethanol
};

inline constexpr double kWeakestUseful_pct = 60;  ///< of alcohol; 60-90 %: CDC guideline 2008, from memory
inline constexpr double kStrongestUseful_pct = 90;
/// Limits of a stock's strength where none are written, share of it: labels of bleach hold for fresh bottles (guesses).
inline constexpr double kAlcoholTolerance = 0.005;
inline constexpr double kBleachTolerance = 0.1;

struct Disinfectant {
  Agent agent = Agent::ethanol;
  double stock_ml = 0;
  std::optional<double> water_ml;  ///< none for isopropyl: fill up to the mark instead
  double total_ml = 0;
  std::optional<double> shrinks_ml;  ///< by which ethanol and water fill less than their volumes together
  MeasuredOut stock_out;             ///< of the stock, in whole marks
  Measured strength;                 ///< obtained; % v/v or mg/L available chlorine; covers both readings of a bare %
  Contact contact = Contact::wiped;
  Date use_by = {};  ///< a day for bleach, a year for alcohol (common practice)
  std::vector<DisinfectantRemark> remarks;
  std::vector<DisinfectantAssumption> assumed;
};

/// Ethanol and water from a mass balance through the density (OIML R 22), 20 °C; hypochlorite by volume. Given the
/// target or a ratio and one amount, or two amounts and neither. Errors: too little or too much given, a target with
/// limits, not weaker than the stock or of another agent, isopropyl where the water would have to be known, less of the
/// stock than half a step of what measures it.
[[nodiscard]] Result<Disinfectant> mix_disinfectant(const DisinfectantRequest& request);

/// Water (mL at 20 °C) that brings `stock_ml` of ethanol from one strength to a lower one, % v/v.
[[nodiscard]] double water_for_ethanol_ml(double stock_ml, double from_pct, double to_pct);
/// Strength, % v/v, of ethanol after adding water; and the volume it fills, mL.
struct DilutedEthanol {
  double volume_pct;
  double volume_ml;
};
[[nodiscard]] DilutedEthanol add_water_to_ethanol(double stock_ml, double from_pct, double water_ml);

}  // namespace strikebed::mix
