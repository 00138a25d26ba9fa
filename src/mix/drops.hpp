#pragma once
// How large a drop is. Drops of watery liquids and of alcohol differ more than twofold. docs/methods/drops.md
#include <optional>

#include "base/result.hpp"
#include "mix/alcohol.hpp"
#include "mix/amounts.hpp"

namespace strikebed::mix {

/// Drops of water a standard dropper gives in one mL. Source: United States Pharmacopeia, chapter 1101.
inline constexpr double kWaterDropsPerMl = 20;

/// Drops in one mL of a liquid, from the same dropper that gives `water_drops_per_ml` of water: a drop falls when its
/// weight overcomes the surface tension round the tip, so volume goes with surface tension over density.
/// surface_tension_mn_m > 0, density_g_ml > 0. Source: Tate 1864, Phil. Mag. 27:176-180.
[[nodiscard]] double drops_per_ml(double surface_tension_mn_m, double density_g_ml,
                                  double water_drops_per_ml = kWaterDropsPerMl);

struct DropSize {
  enum class Basis { calibrated, from_solvent, unknown };
  Measured ml;            ///< one drop on the whole, before the luck of single drops and counting
  double per_ml_low = 0;  ///< drops in one mL: what the solvent allows, or central 95 % of a calibration
  double per_ml_high = 0;
  Basis basis = Basis::unknown;
};

/// Uncalibrated: from the solvent, to whole drops in one mL; from water's 20 to those of neat alcohol when nothing is
/// known of it. The dropper
/// itself adds 25 % standard uncertainty (guess: other tips, tilted, squeezed fast).
[[nodiscard]] DropSize estimated_drop(const Solvent& solvent);

/// "40 drops = 1 mL" or, by weight, "50 drops = 0.85 g" with the solvent's density.
struct DropCalibration {
  double drops = 0;
  Amount amount;
};
[[nodiscard]] Result<DropCalibration> parse_calibration(std::string_view text, std::string_view field);

/// Carries the luck of the counted drops, one miscounted, the reading of mark or scale (from "+-" where written, else 5
/// % of the volume or 1 % of the weight as limits) and 5.8 % from day to day: +-10 % as limits, USP 1101. Errors: by
/// weight with a solvent whose density is not known; a drop under 0.005 or over 0.2 mL.
[[nodiscard]] Result<DropSize> calibrated_drop(const DropCalibration& calibration, const Solvent& solvent,
                                               std::string_view field);

/// So many counted drops, mL: one drop's size, the luck of single drops (5 % each) and one miscounted. count >= 1.
[[nodiscard]] Measured counted_drops_ml(double count, const DropSize& drop);

}  // namespace strikebed::mix
