#pragma once
// Materials of media: TOML texts to mix::Material. docs/mixes.md describes the format.
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "mix/material.hpp"
#include "mix/recipe.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

/// A complete material, or the grower's own: `based_on = "grit-3-4"` takes what is left out from a shipped one (bare
/// numbers allowed; unit, source and trust may be left out; its id is the name of the file). A [jar_test] replaces bulk
/// density, porosity and alpha.
/// Errors: a field missing, of the wrong unit or out of range; low, value, high or grain sizes out of order; what
/// mix::with_jar_test refuses.
[[nodiscard]] Result<mix::Material> read_material(std::string_view text, const std::string& file,
                                                  const Library& library);

/// The material of a recipe's part: a shipped id, the grower's own file (ends in .toml), or a kind ("grit") with or
/// without the size of its grains; the shipped one of that kind nearest in size, with the size written.
/// Errors: an unknown name (with the nearest and all), a kind with several sizes and none written, and all of the
/// above.
[[nodiscard]] Result<mix::Material> find_material(const Library& library, const std::string& name,
                                                  const std::optional<mix::GrainRange>& grains,
                                                  const std::string& field);

}  // namespace strikebed::nursery
