#include "mix/retention.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>

#include "evidence/boost_policy.hpp"
#include "mix/limits.hpp"

namespace strikebed::mix {
namespace {

/// Halving the interval so often leaves less than 1e-12 of it.
constexpr int kHalvings = 60;

double effective_saturation(double suction_cm, double alpha_per_cm, double n) {
  if (suction_cm <= 0) return 1;
  return std::pow(1 + std::pow(alpha_per_cm * suction_cm, n), -(1 - 1 / n));
}

double integral(const std::function<double(double)>& of, double from, double to) {
  constexpr unsigned kDepth = 15;
  constexpr double kTolerance = 1e-9;
  return boost::math::quadrature::gauss_kronrod<double, 31, evidence::BoostPolicy>::integrate(of, from, to, kDepth,
                                                                                              kTolerance);
}

}  // namespace

double porosity(const PoreSpace& pores) {
  double sum = 0;
  for (const Pores& kind : pores) sum += kind.share;
  return sum;
}

double water_at(const PoreSpace& pores, double suction_cm) {
  double water = 0;
  for (const Pores& kind : pores) {
    water += kind.residual + (kind.share - kind.residual) * effective_saturation(suction_cm, kind.alpha_per_cm, kind.n);
  }
  return water;
}

double draining_alpha_per_cm(double d50_mm) { return 0.13 * d50_mm; }
double wetting_alpha_per_cm(double d50_mm) { return 0.25 * d50_mm; }

double visible_rise_cm(double grain_mm) { return 9 / grain_mm; }

double rise_between_grains_cm(double grain_mm) {
  constexpr double kMmPerCm = 10;
  return 0.15 / (0.2 * grain_mm / kMmPerCm);
}

double mean_water(const PoreSpace& pores, double suction_at_foot_cm, double height_cm,
                  const std::function<double(double)>& area) {
  std::vector<double> edges{0, height_cm};  // and between them the knees of the curves, so that none is stepped over
  for (const Pores& kind : pores) {
    for (const double knee : {1 / kind.alpha_per_cm, 10 / kind.alpha_per_cm})
      if (between(knee - suction_at_foot_cm, 0, height_cm)) edges.push_back(knee - suction_at_foot_cm);
  }
  std::sort(edges.begin(), edges.end());
  double water = 0;
  for (std::size_t i = 1; i < edges.size(); ++i) {
    water +=
        integral([&](double z) { return water_at(pores, suction_at_foot_cm + z) * area(z); }, edges[i - 1], edges[i]);
  }
  return water / integral(area, 0, height_cm);
}

double container_capacity(const PoreSpace& pores, const Container& container) {
  return mean_water(pores, 0, container.fill_cm, [&](double z) { return area_at(container, z); });
}

double column_capacity(const PoreSpace& pores, double height_cm) {
  return mean_water(pores, 0, height_cm, [](double) { return 1.0; });
}

double wet_zone_cm(const PoreSpace& pores, double fill_cm, double least_air) {
  const double full = porosity(pores);
  const auto too_wet = [&](double z) { return full - water_at(pores, z) < least_air; };
  if (too_wet(fill_cm)) return fill_cm;
  double low = 0;
  double high = fill_cm;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (too_wet(middle) ? low : high) = middle;
  }
  return low;
}

std::optional<double> alpha_for_air(double porosity, double residual, double n, double height_cm, double air) {
  const auto air_with = [&](double log_alpha) {
    return porosity - column_capacity({{porosity, residual, std::exp(log_alpha), n}}, height_cm);
  };
  double low = std::log(1e-4);
  double high = std::log(1e3);
  if (!between(air, air_with(low), air_with(high))) return std::nullopt;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2;
    (air_with(middle) < air ? low : high) = middle;
  }
  return std::exp((low + high) / 2);
}

}  // namespace strikebed::mix
