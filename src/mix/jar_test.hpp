#pragma once
// The grower's own measurement of a material or a mix: a known volume, weighed dry, filled with water, drained.
#include <optional>

#include "base/result.hpp"
#include "mix/material.hpp"

namespace strikebed::mix {

/// Readings of one test. Water is given as volumes or, where it was weighed, as the weight of the full and the drained
/// jar (1 g of water is 1 mL; the jar itself taken off).
struct JarTest {
  double volume_ml = 0;
  double dry_g = 0;
  double height_cm = 0;                    ///< of the medium in the jar, straight walls
  std::optional<double> water_to_fill_ml;  ///< poured in slowly until it stands level with the top
  std::optional<double> water_drained_ml;  ///< run out through the bottom in an hour
  std::optional<double> full_g;
  std::optional<double> drained_g;
  double reading_error = 0.03;  ///< of each reading, relative, 90 % range; jug and kitchen scale, judgement
};

/// What it says, as shares of the jar's volume, with 5 and 95 % points from the reading error.
struct JarResult {
  Quantity porosity;  ///< all pores that water fills, inside the grains too
  Quantity air;       ///< drained, at this height
  Quantity water;     ///< held, inside the grains too
  Quantity bulk_density_kg_l;
};

/// Errors: a reading that is missing or not above 0, more water than jar, more drained than filled, air and water at
/// odds with a height the model covers.
[[nodiscard]] Result<JarResult> analysed(const JarTest& test);

/// The material with the jar's numbers in place of its estimates: bulk density, pores between the grains (all pores
/// less what is inside the grains by the estimate) and the alpha for which a column of this height drains to the jar's
/// air.
///   source  put with each number
/// Errors: as above; fewer pores than the grains hold inside; air that no alpha gives.
[[nodiscard]] Result<Material> with_jar_test(Material estimate, const JarTest& test, const std::string& source);

}  // namespace strikebed::mix
