#pragma once
// How fast water runs through wet grains.

namespace strikebed::mix {

/// Dynamic viscosity of water, Pa s: 2.414e-5 x 10^(247.8 / (T_K - 140)); 0 to 100 degrees C within 2.5 %.
/// Source: Al-Shemmeri 2012, Engineering Fluid Mechanics, from memory.
[[nodiscard]] double water_viscosity_pa_s(double temperature_c);

/// Saturated conductivity, m/s: K = (rho g / mu) n^3 / (1 - n)^2 d10^2 / 180. Laminar flow only: above kDrainsAtOnce
/// the number means no more than "at once".
///   porosity  0 to 1; d10_mm  a tenth of the mass is finer, > 0
/// Sources: Kozeny 1927; Carman 1937, Trans. Inst. Chem. Eng. 15:150-166.
[[nodiscard]] double kozeny_carman_m_s(double porosity, double d10_mm, double temperature_c);

/// Saturated conductivity, cm/s: 100 d10^2 (d10 in cm); 0.1 to 3 mm, uniformity below 5.
/// Source: Hazen 1911, Trans. Am. Soc. Civ. Eng. 73:199-203.
[[nodiscard]] double hazen_cm_s(double d10_mm);

/// A pot that lets a hand's depth of water through in ten seconds, m/s. Judgement.
inline constexpr double kDrainsAtOnceMs = 0.01;

}  // namespace strikebed::mix
