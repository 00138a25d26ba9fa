#pragma once
// Species profiles and methods: TOML texts to the structures of growth. docs/profiles.md describes the format.
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "growth/species.hpp"
#include "nursery/library.hpp"

namespace strikebed::nursery {

inline constexpr std::array<std::string_view, 2> kBaseForms{"radial", "single-root"};

/// A complete species profile: every field with value, low, high, unit, source and trust.
/// Errors: a field missing, of the wrong unit, out of range, or out of order with another.
[[nodiscard]] Result<growth::Species> read_species(std::string_view text, const std::string& file);

/// What read_own_profile reads as these values: those that are the grower's own or were learnt, rates as the species
/// has them, and what was absorbed.
[[nodiscard]] std::string own_profile_text(const growth::Species& species);

/// The same with the grower's own values laid over it: any subset of the fields, each a bare number (known exactly) or
/// a table; unit, source and trust may be left out. Seed of another weight lies deeper or less deep, unless the file
/// says how deep: with the cube root of the weight, as a seed's width goes. The same checks.
[[nodiscard]] Result<growth::Species> read_own_profile(std::string_view text, const std::string& file,
                                                       const growth::Species& shipped);

/// A complete method, or the grower's own: `based_on = "square-cut"` takes what is left out from that method of the
/// library (bare numbers allowed, unit, source and trust may be left out; its id is then the name of the file). A
/// method's rates may leave their batch spread to the species. The reference dip is that of the shipped method, unless
/// the file states its own take.
[[nodiscard]] Result<growth::Method> read_method(std::string_view text, const std::string& file,
                                                 const Library& library);

/// A shipped method by its id, or the grower's own file (its name ends in .toml). Errors: an unknown name (with the
/// nearest and all), a file that cannot be read, what read_method refuses.
[[nodiscard]] Result<growth::Method> find_method(const Library& library, const std::string& name,
                                                 const std::string& field);

}  // namespace strikebed::nursery
