#pragma once
// Amounts as a grower writes them ("3 tbsp-metric", "250 ppm", "1 % w/v", "5 mM"), and how sure an amount is.
// Names that mean different things in different countries (tbsp, gal, fl oz, cup) are refused, never guessed.
// Sources: US customary and imperial measures by definition (NIST Handbook 44, appendix C; Weights and Measures Act
// 1985); metric tablespoon 15 mL, Australian 20 mL (kitchen standards, from memory).
#include <array>
#include <cmath>
#include <cstddef>
#include <initializer_list>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace strikebed::mix {

/// What an amount measures; the base unit in which it is computed stands behind each.
enum class Dimension {
  volume,           ///< mL
  mass,             ///< g
  length,           ///< mm
  strength,         ///< mass in a volume, mg/L; "ppm" is mg/L
  molarity,         ///< mmol/L
  share_by_volume,  ///< % v/v
  share_by_mass,    ///< % w/w
  drops,            ///< drops; how large they are is another question
};

struct Unit {
  std::string_view name;  ///< as printed and as the grower may write it: "tbsp-metric"
  Dimension dimension;
  double in_base;  ///< one of it in the base unit
};

[[nodiscard]] std::span<const Unit> all_units();
[[nodiscard]] std::string_view dimension_words(Dimension dimension);  ///< "a volume"
[[nodiscard]] std::string units_of(Dimension dimension);              ///< "mL, L, tsp, ..."

/// A number with its unit as written; `plus_minus`: written behind "+-", in the same unit, 0 when nothing was.
struct Amount {
  double number = 0;
  double plus_minus = 0;
  const Unit* unit = nullptr;

  [[nodiscard]] Dimension dimension() const { return unit->dimension; }
  [[nodiscard]] double base() const { return number * unit->in_base; }
  [[nodiscard]] double plus_minus_base() const { return plus_minus * unit->in_base; }
};

/// A unit by its name. Letter case does not matter but between mm (length) and mM (molarity); spaces and hyphens are
/// one; a plural s is read over. Errors: unknown (names the nearest), ambiguous (names the choices).
/// expected: only units of these are named as the nearest; none: all are.
[[nodiscard]] Result<const Unit*> find_unit(std::string_view name, std::string_view field = "",
                                            std::initializer_list<Dimension> expected = {});

/// "3 tbsp-metric", "1/2 tsp", "1 1/2 L", "1e-9 ppm", "10 +- 0.5 mL". Every number whose base is finite is taken, also
/// 0 and negative ones. field: what the amount is of, put into the error; expected: as in find_unit, nothing else is
/// refused.
[[nodiscard]] Result<Amount> parse_amount(std::string_view text, std::string_view field,
                                          std::initializer_list<Dimension> expected = {});

/// The same, of this dimension and above 0. Errors as well: limits as wide as the amount.
[[nodiscard]] Result<Amount> parse_above_zero(std::string_view text, Dimension dimension, std::string_view field);

/// The same of an amount that was read already; `written`: as it stands in the message. Nothing when it is right.
[[nodiscard]] std::optional<Error> not_above_zero(const Amount& amount, std::string_view written, Dimension dimension,
                                                  std::string_view field);

/// The same as parse_above_zero in its base unit (mL, g, mm, mg/L, mmol/L, %, drops), where limits are not reckoned
/// with: they are refused.
[[nodiscard]] Result<double> parse_positive(std::string_view text, Dimension dimension, std::string_view field);

/// The refusal of limits written with "+-" where nothing reckons with them; nothing when there are none.
[[nodiscard]] std::optional<Error> limits_given(const Amount& amount, std::string_view field);

/// "3 tbsp-metric"; with "± 0.5" between when there is one.
[[nodiscard]] std::string to_text(const Amount& amount);

/// To so many significant figures, without exponent and without trailing zeros: figures(0.12345, 3) is "0.123".
[[nodiscard]] std::string figures(double value, int significant);

/// To the digits that survive the standard uncertainty `u`: its first digit is the last one shown, and `significant`
/// figures are the most. digits(253.7, 64) is "250", digits(253.7, 9.7) "254"; u 0: as figures.
[[nodiscard]] std::string digits(double value, double u, int significant = 3);

/// A value and its standard uncertainty (JCGM 100:2008, GUM), in one unit.
struct Measured {
  double value = 0;
  double u = 0;

  [[nodiscard]] double relative() const { return value != 0 ? u / std::fabs(value) : 0; }
  /// Central 95 %, coverage factor 2.
  [[nodiscard]] double low() const { return value - 2 * u; }
  [[nodiscard]] double high() const { return value + 2 * u; }
};

/// What is known of an amount written with "+-": limits of a rectangular distribution, u = limit / sqrt 3 (GUM 4.3.7).
[[nodiscard]] Measured measured(const Amount& amount);

/// A volume the grower measures: what was written with "+-", else 5 % as limits for a kitchen spoon or cup and 2 % for
/// another vessel (guesses).
[[nodiscard]] Measured measured_volume(const Amount& amount);
/// A volume read off a jug, can or cylinder, mL: 2 % as limits, a guess.
inline constexpr double kVesselTolerance = 0.02;
[[nodiscard]] Measured jug_ml(double ml);

/// The refusal of limits ("+-") that reach to 0; nothing when they do not.
[[nodiscard]] std::optional<Error> too_wide(const Amount& amount, std::string_view written, std::string_view field);

/// First-order propagation of independent inputs through `model` (a function of std::array<double, N>), the
/// sensitivities by half differences over one standard uncertainty either side (GUM 5.1.2 and note 2 to 5.1.3).
template <std::size_t N, class Model>
[[nodiscard]] Measured propagated(const std::array<Measured, N>& inputs, const Model& model) {
  std::array<double, N> at{};
  for (std::size_t i = 0; i < N; ++i) at[i] = inputs[i].value;
  Measured result{model(at), 0};
  double variance = 0;
  for (std::size_t i = 0; i < N; ++i) {
    if (inputs[i].u == 0) continue;
    at[i] = inputs[i].value + inputs[i].u;
    const double above = model(at);
    at[i] = inputs[i].value - inputs[i].u;
    const double below = model(at);
    at[i] = inputs[i].value;
    variance += (above - below) * (above - below) / 4;
  }
  result.u = std::sqrt(variance);
  return result;
}

}  // namespace strikebed::mix
