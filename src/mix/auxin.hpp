#pragma once
// Auxins as substances, how much of them is in a liquid or a powder, and how strong a dip is as a dose.
// docs/methods/auxin-solutions.md
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "mix/alcohol.hpp"
#include "mix/amounts.hpp"

namespace strikebed::mix {

enum class Acid { iba, naa };

/// An auxin as an acid or as its potassium salt. Molar masses follow from the formulae C12H13NO2 and C12H10O2.
struct Auxin {
  std::string_view name;  ///< "IBA", "K-IBA", "NAA", "K-NAA"
  Acid acid;
  bool salt;
  double molar_mass_g_mol;
  double water_solubility_mg_l;  ///< at 20 °C
  std::string_view solubility_source;
};

[[nodiscard]] const Auxin& auxin_of(Acid acid);  ///< the acid itself
[[nodiscard]] Result<const Auxin*> find_auxin(std::string_view name, std::string_view field);

/// Mass of acid in one mass of the substance: 1 for an acid, 0.842 for K-IBA.
[[nodiscard]] double acid_equivalent(const Auxin& auxin);

[[nodiscard]] double mm_from_ppm(double mg_l, const Auxin& auxin);
[[nodiscard]] double ppm_from_mm(double mmol_l, const Auxin& auxin);

enum class Form { liquid, powder, talc };

/// One auxin in a bottle or a tin.
struct Ingredient {
  const Auxin* auxin = nullptr;
  Measured mmol;  ///< in one mL of a liquid, in one g of a powder or talc
};

/// What the grower starts from.
struct Stock {
  Form form = Form::liquid;
  Solvent solvent;  ///< of a liquid
  std::vector<Ingredient> ingredients;
  std::string words;              ///< as the grower wrote it
  bool percent_was_bare = false;  ///< "1 %" was read as % w/v (liquid) or % w/w (powder, talc)
  bool taken_as_pure = false;     ///< a powder without a strength
  bool strength_asked = false;    ///< "IBA" alone: how strong it is, or must be, is the question
};

/// Whether a stock may be named without a strength, to ask for it.
enum class StockStrength { needed, may_be_asked };

/// "1 % IBA + 0.5 % NAA", "10000 ppm IBA", "0.3 % IBA talc", "IBA powder", "98 % K-IBA powder". A bare % is by weight
/// in volume in a liquid, by weight in a powder. % w/w of a liquid needs the density of its solvent. A powder without a
/// strength is pure; one auxin of a liquid or talc without one, "IBA", "IBA talc", is refused or becomes the question.
/// A gel, a paste and what is ready-made are refused: they are used as sold.
[[nodiscard]] Result<Stock> parse_stock(std::string_view text, const Solvent& solvent, std::string_view field,
                                        StockStrength strength = StockStrength::needed);

/// Which auxin a strength is of; without one: all together, as IBA equivalent by mole.
struct AuxinTarget {
  std::optional<const Auxin*> auxin;
  double mmol = 0;              ///< in one L; in talc in one kg
  double mmol_u = 0;            ///< standard uncertainty where it was measured and written with "+-"
  bool auxin_left_out = false;  ///< "250 ppm" alone from a salt: counted as the salt
  double number = 0;            ///< as written
  std::string unit;
};

/// "250 ppm IBA", "5 mM total", "0.1 % IBA"; "250 ppm" alone where the stock holds one auxin. `dry`: of a talc.
[[nodiscard]] Result<AuxinTarget> parse_auxin_target(std::string_view text, const Stock& stock, bool dry,
                                                     std::string_view field);

/// mmol of what the target asks for in one mL (liquid) or one g (powder, talc) of the stock; 0 when there is none.
[[nodiscard]] Measured mmol_in(const Stock& stock, const std::optional<const Auxin*>& auxin);

[[nodiscard]] std::string_view name_of(const std::optional<const Auxin*>& auxin);  ///< "IBA", "total auxin as IBA"

// The dose and its response. Every parameter is a belief (median, low, high), never a measurement of black pine.

/// C (t / 5 s)^n: strength (ppm total auxin as IBA equivalent) that would do in 5 s what C does in t. Seconds > 0.
inline constexpr double kTimeExponent = 0.25;
[[nodiscard]] double dose_index_ppm(double iba_equivalent_ppm, double seconds, double exponent = kTimeExponent);

/// Rooting as a hump over the logarithm of the dose, less what burns.
struct ResponsePrior {
  double best_ppm = 1200;  ///< 5-s dip; 700-2500
  double spread_ln = 0.9;  ///< 0.6-1.3
  double without = 0.30;   ///< share that roots without auxin
  double at_best = 0.68;
  double half_burnt_ppm = 8000;  ///< 4000-15000
  double burn_steepness = 2.5;
};
[[nodiscard]] double burnt_share(double dose_ppm, const ResponsePrior& prior = {});
[[nodiscard]] double rooted_share(double dose_ppm, const ResponsePrior& prior = {});

/// How a dip stands to the method's reference dip under the prior. `low` and `high`: least and most over all corners of
/// the parameters' ranges.
struct DipComparison {
  double dose_ppm = 0;
  double reference_ppm = 0;
  double ratio = 1;  ///< of rooted shares
  double ratio_low = 1;
  double ratio_high = 1;
  double burnt = 0;
  double burnt_low = 0;
  double burnt_high = 0;
};
[[nodiscard]] DipComparison compare_dip(double iba_equivalent_ppm, double seconds, double reference_ppm,
                                        double reference_seconds);

}  // namespace strikebed::mix
