#pragma once
// What a medium is made of: grains with their size, weight and pores.
#include <optional>
#include <string>

#include "base/profile_value.hpp"
#include "base/result.hpp"
#include "mix/filter_rule.hpp"

namespace strikebed::mix {

enum class Dust { none, silica, organic };

struct Material {
  std::string id;    ///< "grit-3-4"
  std::string name;  ///< "grit 3-4 mm"
  std::string kind;  ///< "grit": what it is called without its size
  GrainRange grains;
  ProfileValue bulk_density_kg_l;  ///< dry and loose
  ProfileValue porosity;           ///< between the grains, 0 to 1
  ProfileValue inside_water;       ///< share of a grain's own volume that water fills and keeps in a drained pot
  ProfileValue n;                  ///< van Genuchten's n of the pores between
  ProfileValue residual;           ///< share of the pores between the grains whose water does not drain
  std::optional<ProfileValue> alpha_per_cm;  ///< measured or fitted; left out: from the grain size
  Dust dust = Dust::none;

  [[nodiscard]] double typical_alpha_per_cm() const;
  /// The diameter of round grains whose pores drain alike, for packing: the middle of the range.
  [[nodiscard]] double diameter_mm() const { return grains.middle_mm(); }
};

/// A draw from a range by a standard normal score z: the median at 0, the 5 and 95 % points at -+1.645, log-normal with
/// a spread of its own on each side. 0 stays 0.
[[nodiscard]] double drawn(const Quantity& quantity, double z);

/// A share of a volume is drawn the same way and held below this.
inline constexpr double kMostPorous = 0.98;

}  // namespace strikebed::mix
