#pragma once
// How a medium shares its pores between water and air once it has drained, from suction at a point to a whole pot.
//
// Suction is in cm of water. In a drained pot it equals the height above the bottom. Water and air are shares of the
// volume of the medium.
#include <functional>
#include <optional>
#include <vector>

#include "mix/container.hpp"

namespace strikebed::mix {

/// Pores of one width: a van Genuchten curve for a part of the medium's volume.
struct Pores {
  double share = 0;         ///< of the medium's volume, 0 to 1: water they hold when full
  double residual = 0;      ///< of the medium's volume, at most `share`: water that does not drain
  double alpha_per_cm = 0;  ///< > 0; about one over the suction at which air enters
  double n = 0;             ///< > 1; how alike the pores are
};

/// All pores between the grains of a medium, widest or narrowest first does not matter. Mixed media have several kinds.
using PoreSpace = std::vector<Pores>;

[[nodiscard]] double porosity(const PoreSpace& pores);  ///< water held when full

/// Water held at a suction: theta = theta_r + (theta_s - theta_r) [1 + (alpha h)^n]^-(1 - 1/n), summed over the pores.
///   suction_cm  >= 0 (below 0: as at 0, the medium is full)
/// Sources: van Genuchten 1980, Soil Sci. Soc. Am. J. 44:892-898; sums of curves Durner 1994, Water Resour. Res.
/// 30:211.
[[nodiscard]] double water_at(const PoreSpace& pores, double suction_cm);

/// alpha of washed grains of a median diameter on draining, 1/cm: 0.13 d50 (mm). Right within a factor 1.5 for uniform
/// sand to fine gravel (0.1 to 5 mm).
/// Source: uniform silica sands of Schroth et al. 1996, Soil Sci. Soc. Am. J. 60:1331-1339, from memory.
[[nodiscard]] double draining_alpha_per_cm(double d50_mm);
inline constexpr double kAlphaErrorFactor = 1.5;  ///< 90 % range of the above, up and down
/// The same on wetting: 0.25 d50. Source: saturated rise of 7.9 cm at 0.5 mm, Salim & Hampton 2012.
[[nodiscard]] double wetting_alpha_per_cm(double d50_mm);

/// n of grains from one pair of sieves with few others between, or as dug; and their residual water.
inline constexpr double kUniformN = 6;          ///< 4 to 9; dune sand 5.2
inline constexpr double kUnsievedN = 3;         ///< 2.5 to 4
inline constexpr double kResidualWater = 0.03;  ///< of the volume

/// Visible rise of water in dry grains, cm: 9 / d (mm), d the middle of the class. Within a factor 1.45 of what was
/// measured in ten classes from 0.05 to 5 mm (Atterberg, in Lohman 1972, USGS Prof. Paper 708, from memory; Heath 1982;
/// Salim & Hampton 2012).
[[nodiscard]] double visible_rise_cm(double grain_mm);
/// The rise in a tube as wide as the pore between grains: 0.15 / r with r 0.2 of the grain (cm); sand and gravel only.
/// Source: Fetter, Applied Hydrogeology, 3rd ed., table 6.1.
[[nodiscard]] double rise_between_grains_cm(double grain_mm);

/// Mean water of a layer that stands with its lower face at `suction_at_foot_cm`, over a height in which the area is
/// `area(z)` at z above its foot. Gauss-Kronrod quadrature between the knees of the curves, relative error
/// below 1e-7 for alpha up to 1000 1/cm and n up to 9.
[[nodiscard]] double mean_water(const PoreSpace& pores, double suction_at_foot_cm, double height_cm,
                                const std::function<double(double)>& area);

/// Container capacity: mean water of a drained container filled to its fill height.
/// Source: Milks, Fonteno & Larson 1989, J. Am. Soc. Hort. Sci. 114:53-56.
[[nodiscard]] double container_capacity(const PoreSpace& pores, const Container& container);
/// The same of a straight column of this height.
[[nodiscard]] double column_capacity(const PoreSpace& pores, double height_cm);

/// Height above the bottom, cm, below which less than `least_air` of the volume is air in a drained container; the fill
/// height when that is everywhere.
[[nodiscard]] double wet_zone_cm(const PoreSpace& pores, double fill_cm, double least_air);
/// Air below which roots lack it: a tenth of the volume (Wesseling & van Wijk 1957, in Luthin, Drainage of Agricultural
/// Lands, from memory).
inline constexpr double kLeastAir = 0.10;

/// alpha for which a drained straight column holds this much air.
///   air  between what n and the residual allow at this height: above 0, below porosity - residual
/// Nothing when no alpha between 1e-4 and 1e3 gives it.
[[nodiscard]] std::optional<double> alpha_for_air(double porosity, double residual, double n, double height_cm,
                                                  double air);

}  // namespace strikebed::mix
