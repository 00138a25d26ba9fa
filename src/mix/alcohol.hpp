#pragma once
// Alcohol in water at 20 °C: density, share by volume and by mass, surface tension. docs/methods/disinfectants.md
#include <string>
#include <string_view>

#include "base/result.hpp"

namespace strikebed::mix {

inline constexpr double kWaterDensity_g_ml = 0.99820;  ///< at 20 °C

enum class Alcohol { ethanol, isopropyl };

/// Density of ethanol and water, g/mL at 20 °C; mass_share 0-1.
/// Source: OIML R 22 (1975), general formula at 20 °C, coefficients from memory; at steps of 5 % within 0.0001 g/mL of
/// the table of the Bureau of Standards (tests).
[[nodiscard]] double ethanol_density_g_ml(double mass_share);

/// % v/v (mL of pure ethanol at 20 °C in 100 mL of mixture at 20 °C) from the share by mass, and back; 0-100 % v/v.
[[nodiscard]] double ethanol_volume_pct(double mass_share);
[[nodiscard]] double ethanol_mass_share(double volume_pct);

/// Contents of a small bottle apart from the auxin. The share of alcohol is a range when the label does not say.
struct Solvent {
  enum class Kind { unknown, water, alcohol, ethanol, isopropyl };
  Kind kind = Kind::unknown;
  double low_pct = 0;  ///< alcohol, % v/v
  double high_pct = 0;

  [[nodiscard]] bool share_is_known() const { return low_pct == high_pct; }
  [[nodiscard]] bool is_alcohol() const { return kind != Kind::unknown && kind != Kind::water; }
};

/// "Alcohol" without a share: half alcohol by mass (57.8 % v/v) to neat, as concentrates that hold 1 % of an auxin are.
inline constexpr double kAlcoholRich_pct = 57.8;

/// "water", "alcohol", "ethanol", "isopropyl", each alcohol also with a share: "50 % ethanol" (read as % v/v).
[[nodiscard]] Result<Solvent> parse_solvent(std::string_view text, std::string_view field);
[[nodiscard]] std::string solvent_words(const Solvent& solvent);  ///< "50 % ethanol", "alcohol (58 to 100 %)"

/// Density, g/mL at 20 °C, alcohol 0-100 % v/v. Isopropyl: as if volumes added up, up to 4 % too low in the middle;
/// good enough for drops, not for dilutions.
[[nodiscard]] double solvent_density_g_ml(Alcohol alcohol, double volume_pct);

/// Surface tension, mN/m, alcohol 0-100 % v/v: ethanol at 20 °C, isopropyl at 25 °C; straight lines between the points.
/// Source: Vazquez, Alvarez & Navaza 1995, J. Chem. Eng. Data 40:611-614 (water looked up, alcohols from memory).
[[nodiscard]] double surface_tension_mn_m(Alcohol alcohol, double volume_pct);

}  // namespace strikebed::mix
