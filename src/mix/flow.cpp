#include "mix/flow.hpp"

#include <cmath>

namespace strikebed::mix {
namespace {

constexpr double kGravity = 9.80665;    // m/s2
constexpr double kWaterDensity = 1000;  // kg/m3, within 0.5 % from 0 to 35 degrees C
constexpr double kMmPerM = 1000;
constexpr double kMmPerCm = 10;
constexpr double kKelvinAtZeroC = 273.15;

}  // namespace

double water_viscosity_pa_s(double temperature_c) {
  return 2.414e-5 * std::pow(10, 247.8 / (temperature_c + kKelvinAtZeroC - 140));
}

double kozeny_carman_m_s(double porosity, double d10_mm, double temperature_c) {
  const double d10_m = d10_mm / kMmPerM;
  const double solid = 1 - porosity;
  return kWaterDensity * kGravity / water_viscosity_pa_s(temperature_c) * porosity * porosity * porosity /
         (solid * solid) * d10_m * d10_m / 180;
}

double hazen_cm_s(double d10_mm) {
  const double d10_cm = d10_mm / kMmPerCm;
  return 100 * d10_cm * d10_cm;
}

}  // namespace strikebed::mix
