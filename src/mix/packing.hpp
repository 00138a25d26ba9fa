#pragma once
// How grains of several sizes pack: why two buckets and one bucket do not make three.
//
// A packing is the share of a volume that the grains fill, inner pores of a grain counted to the grain: 1 - porosity.
#include <optional>
#include <span>
#include <vector>

#include "base/result.hpp"

namespace strikebed::mix {

/// The best two sizes can do, the fine ones being vanishingly small: min[phi_c / (1 - y), phi_f / (1 - (1 - phi_f)(1 -
/// y))].
///   packing_coarse, packing_fine  alone, 0 to 1; fine_share y  of the grains' volume, 0 to 1
/// Source: Furnas 1931, Ind. Eng. Chem. 23:1052-1058.
[[nodiscard]] double furnas_packing(double packing_coarse, double packing_fine, double fine_share);
/// The share of fines (of the grains' volume) at which the above is densest.
[[nodiscard]] double furnas_best_fine_share(double packing_coarse, double packing_fine);

/// Volume of a mix of coarse and fine when fines enter the coarse pores first, by their loose volumes; Furnas' limit.
[[nodiscard]] double mixed_volume_of_two(double coarse, double fine, double porosity_coarse);

/// Grains of one size: their share of all grains' volume, their own packing, their diameter.
struct Grains {
  double share = 0;    ///< >= 0; all shares sum to 1
  double packing = 0;  ///< alone, 0 to 1
  double diameter_mm = 0;
};

/// How strongly the smaller grains of size ratio r (small over large, 0 to 1) push the larger apart, and how strongly
/// the larger disturb the smaller as a wall: a = sqrt(1 - (1 - r)^1.02), b = 1 - (1 - r)^1.5.
/// Source: de Larrard 1999, Concrete Mixture Proportioning, ch. 1, from memory.
[[nodiscard]] double loosening(double size_ratio);
[[nodiscard]] double wall_effect(double size_ratio);

/// Packing of a mix of any number of sizes, by de Larrard's linear model: each size as the one that fills the space,
/// the least of them counts. Order does not matter.
[[nodiscard]] double mixed_packing(std::span<const Grains> grains);

/// A component poured into a mix.
struct Poured {
  double volume = 0;   ///< loose, any unit
  double packing = 0;  ///< alone, 0 to 1
  double diameter_mm = 0;
};

/// Share of the shrinkage of the model that stirring by hand reaches; a mix near its densest then keeps 2 to 5 points
/// more pores than the model. Judgement on hand-filled mixes.
struct HandMixing {
  double value = 0.80;
  double low = 0.60;
  double high = 0.95;
};

struct Mixture {
  double volume = 0;          ///< in the unit of the components
  double packing = 0;         ///< of the whole
  std::vector<double> pores;  ///< left from each component's own pores, per volume of the mix, in the order given
  [[nodiscard]] double shrinkage(double sum_of_volumes) const { return 1 - volume / sum_of_volumes; }
};

/// The mix of loose components. Grains keep their volume, so what the mix shrinks by is pores lost; smaller grains sit
/// in the pores between larger ones, so they are lost from the widest pores first (the largest grains').
///   achieved  share of the model's shrinkage that is reached, 0 to 1
/// Errors: nothing to mix, a negative volume, a packing or a diameter out of range.
[[nodiscard]] Result<Mixture> mixed(std::span<const Poured> components, double achieved);

}  // namespace strikebed::mix
