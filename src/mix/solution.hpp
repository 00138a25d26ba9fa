#pragma once
// A rooting solution: how much of a concentrate, a powder or a stock goes into how much water, what strength a whole
// number of drops, marks or milligrams really gives and how sure that is, how strong the stock must be, and how long it
// keeps.
// docs/methods/auxin-solutions.md
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "mix/auxin.hpp"
#include "mix/drops.hpp"
#include "mix/instrument.hpp"
#include "mix/ratio.hpp"

namespace strikebed::mix {

/// Added *to* the liquid, or made up *to* the mark: 1 in 10 and 1 plus 10 are 9 % apart.
enum class Filling { added_to, made_up_to };

/// The liquid (mL), or the talc (g), the stock goes into.
struct Bath {
  Filling filling = Filling::made_up_to;
  Measured amount;
  std::string words;     ///< as the grower wrote it
  bool of_talc = false;  ///< a weight of talc powder and not a volume of liquid
};

/// Cuttings to one filling of a cup, before sap and dust weaken it; common practice, no source.
inline constexpr int kCuttingsPerFilling = 40;

/// A batch of cuttings and the cup it is dipped in.
struct CupDip {
  int cuttings = 0;
  double width_mm = 0;  ///< inside, round
  double depth_mm = 0;  ///< of the liquid
  int per_fill = kCuttingsPerFilling;
};
/// Volume of all fillings, mL, and how many.
[[nodiscard]] double cup_ml(const CupDip& dip);  ///< of one filling
[[nodiscard]] int fillings(const CupDip& dip);

/// How long and how strong the grower dips, and the dip the method was described with.
struct SoakTime {
  double seconds = 0;
  double reference_ppm = 1200;  ///< total auxin as IBA; 700-2500, see ResponsePrior
  double reference_seconds = 5;
};

/// What is asked. Given three of stock, target, bath and dose (or a ratio instead of target and dose), the rest
/// follows. A stock that is only named (`stock.strength_asked`) counts as not given.
struct SolutionRequest {
  Stock stock;
  Solvent into = {Solvent::Kind::water, 0, 0};  ///< what the stock is thinned with
  std::optional<AuxinTarget> target;
  std::optional<Bath> bath;
  std::optional<Amount> dose;  ///< a volume or drops of a liquid, a weight of a powder or talc
  std::optional<Ratio> ratio;
  std::optional<CupDip> cup;
  std::optional<SoakTime> soak;
  std::vector<Instrument> instruments;  ///< empty: the usual ones
  std::optional<DropCalibration> calibration;
  bool keep = false;  ///< a stock to be kept, not a dip for today
  Date made = {};
};

/// A strength and how sure it is. Dry (talc): ppm is mg in one kg and mmol in one kg.
struct Strength {
  std::string_view name;  ///< an auxin, or "total auxin as IBA"
  Measured ppm;
  Measured mmol;
};

/// One way of measuring the dose out, and what comes of it.
struct Way {
  MeasuredOut out;
  Measured ppm;             ///< of what the target asks for, or of all as IBA
  bool too_coarse = false;  ///< fewer than kFairSteps steps
};

/// Why a mixture keeps as long as it is dated: 60 days in water, a year in alcohol and dry.
enum class KeepingKind { thinned, in_water, in_alcohol, dry };
struct Keeping {
  Date use_by = {};
  KeepingKind kind = KeepingKind::thinned;
};

/// First thin the stock, then take a measurable amount of that; both in whole steps of what the grower measures with.
struct TwoSteps {
  MeasuredOut first;              ///< of the stock
  double first_volume_ml = 0;     ///< made up to
  MeasuredOut second;             ///< of the first mixture, mL
  double total = 0;               ///< mL in the end
  double first_ppm = 0;           ///< strength of the first mixture, as the target counts it
  bool first_in_alcohol = false;  ///< a powder of acid: water does not dissolve it, alcohol of 50 % or more does
  double first_alcohol_low_pct = 0;
  double first_alcohol_high_pct = 0;
  Keeping first_keeping;
};

struct Renewal {
  int cuttings = 0;      ///< to one filling
  int wet_cuttings = 0;  ///< after which a filling is a tenth weaker from the water they bring
  bool alcohol_leaves = false;
};

/// What to mind about a solution.
enum class SolutionRemarkKind {
  strong_stock,        ///< `ppm` of `auxin` in the stock is more than its water dissolves
  strong_mixture,      ///< and in the mixture; the alcohol in it may help
  acid_powder,         ///< of `auxin`: water hardly wets it
  much_alcohol,        ///< in the dip, for thin stems
  uncalibrated_drops,  ///< are counted: `strength` is as unsure as it says
  too_coarse,          ///< all ways have fewer than kFairSteps steps, and two steps do not mend that
  in_two_steps,        ///< all ways have fewer than kFairSteps steps: make it in two steps
  strong_first_step,   ///< `ppm` of `auxin`, an acid, in the first of two: alcohol, not water
};
struct SolutionRemark {
  SolutionRemarkKind kind{};
  const Auxin* auxin = nullptr;
  double ppm = 0;
  Measured strength = {};              ///< ppm
  double short_by_rule_of_twenty = 0;  ///< share by which a dose of 20 drops for each mL is too small; 0: for water
};

/// What was taken as given, because nothing else was said.
enum class SolutionAssumption {
  percent_by_volume,  ///< a bare % of the stock is % w/v
  wanted_strength,    ///< of the mixture is what is wanted, where the stock is asked
  counted_as_salt,    ///< "250 ppm" from a salt is ppm of the salt
  pure_powder,
  exact_powder,  ///< its share of auxin
  exact_stock,   ///< its strength
  vessel,        ///< how well a spoon, cup or other vessel measures
  fillings,      ///< of the cup
  volumes_add_up,
};

struct Solution {
  bool dry = false;                 ///< talc: weights instead of volumes
  std::optional<Strength> stock;    ///< how strong the stock must be, where that was asked
  Measured dose;                    ///< of the stock, before rounding; mL, g
  double total = 0;                 ///< mL or g in the end (volumes taken to add up)
  double liquid = 0;                ///< of water or talc
  std::vector<Strength> strengths;  ///< obtained: in two steps, or else by the first way; each auxin, then the total
  std::string_view asked;           ///< the name in strengths the ways are about
  std::vector<Way> ways;            ///< none when the dose was given
  std::optional<TwoSteps> two_steps;
  DropSize drop;
  double alcohol_low_pct = 0;  ///< in the dip, % v/v
  double alcohol_high_pct = 0;
  std::optional<DipComparison> dip;
  std::optional<Renewal> renewal;
  Keeping keeping;
  std::vector<SolutionRemark> remarks;
  std::vector<SolutionAssumption> assumed;
};

/// Alcohol, % v/v: above it a dip is much for thin stems (guess), and a bottle is marked as flammable.
inline constexpr double kGentleAlcohol_pct = 25;

/// ppm of one auxin of the stock in the first of two mixtures.
[[nodiscard]] double first_step_ppm(const Ingredient& ingredient, const TwoSteps& steps);

/// The strength of this name; the last where there is none.
[[nodiscard]] const Strength& strength_of(const Solution& solution, std::string_view name);

/// Alcohol, % v/v, that dissolves an acid: concentrates of 1 % are sold in half alcohol (trade).
inline constexpr double kDissolvingAlcohol_pct = 50;

/// Errors: the target is not weaker than the stock or not in it; too little or too much was given; a talc is to be
/// dissolved; a dose of another kind than the stock; more dose than bath; a stock that would hold more than all of it;
/// limits of a target that is wanted; a dose under half a step of what measures it, where two steps do not mend that.
[[nodiscard]] Result<Solution> mix_solution(const SolutionRequest& request);

}  // namespace strikebed::mix
