#pragma once
// Materials of media: TOML texts to mix::Material. docs/mixes.md describes the format.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "base/result.hpp"
#include "mix/material.hpp"
#include "mix/recipe.hpp"
#include "nursery/profiles/profile_texts.hpp"

namespace strikebed::nursery {

/// The shipped materials by id, and a way to read the grower's own files. Handed in, so that tests need no disk.
struct MaterialLibrary {
  ProfileTexts shipped;
  std::function<Result<ProfileText>(const std::string& path)> own_file;
};

/// profiles/materials of this program's source or share folder.
[[nodiscard]] std::string materials_folder();

/// Every .toml file of the folder; own files are read from disk.
/// Errors: a folder that is not there or holds none, a file that cannot be read.
[[nodiscard]] Result<MaterialLibrary> load_materials(const std::string& folder = materials_folder());

/// A complete material, or the grower's own: `based_on = "grit-3-4"` takes what is left out from a shipped one (bare
/// numbers allowed; unit, source and trust may be left out; its id is the name of the file). A [jar_test] replaces bulk
/// density, porosity and alpha.
/// Errors: a field missing, of the wrong unit or out of range; low, value, high or grain sizes out of order; what
/// mix::with_jar_test refuses.
[[nodiscard]] Result<mix::Material> read_material(std::string_view text, const std::string& file,
                                                  const MaterialLibrary& library);

/// The material of a recipe's part: a shipped id, the grower's own file (ends in .toml), or a kind ("grit") with or
/// without the size of its grains; the shipped one of that kind nearest in size, with the size written.
/// Errors: an unknown name (with the nearest and all), a kind with several sizes and none written, and all of the
/// above.
[[nodiscard]] Result<mix::Material> find_material(const MaterialLibrary& library, const std::string& name,
                                                  const std::optional<mix::GrainRange>& grains,
                                                  const std::string& field);

}  // namespace strikebed::nursery
