#pragma once
// What a method asks of the mixes: its container with medium and pockets, and one filling of its rooting solution.
#include "base/result.hpp"
#include "growth/species.hpp"
#include "mix/medium.hpp"
#include "mix/solution.hpp"
#include "nursery/profiles/material_file.hpp"

namespace strikebed::nursery {

/// One container of the method, its medium and its pockets, the materials looked up.
/// Errors, each with the method's key for field: a recipe that cannot be read, an unknown material, a
/// container, pocket or medium that cannot be.
[[nodiscard]] Result<mix::MediumRequest> container_of(const growth::Method& method, const Library& library);

/// One filling of the vessel at the method's strength, from this stock, measured in drops too where it is liquid.
[[nodiscard]] mix::SolutionRequest filling_of(const growth::Method& method, const mix::Stock& stock);

}  // namespace strikebed::nursery
