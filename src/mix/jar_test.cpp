#include "mix/jar_test.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "mix/limits.hpp"
#include "mix/retention.hpp"

namespace strikebed::mix {
namespace {

Error wrong(const char* field, std::string problem, std::string allowed) {
  return {.problem = std::move(problem), .allowed = std::move(allowed), .field = field};
}

/// value +- half-width.
Quantity about(double value, double half_width) {
  return {value, std::max(value - half_width, value / 100), value + half_width};
}

/// Error of a quotient of two readings.
double relative_error(const JarTest& test) { return test.reading_error * std::sqrt(2.0); }

bool poured(const JarTest& test) { return test.water_to_fill_ml && test.water_drained_ml; }
const char* fill_field(const JarTest& test) { return poured(test) ? "water_to_fill_ml" : "full_g"; }
const char* drained_field(const JarTest& test) { return poured(test) ? "water_drained_ml" : "drained_g"; }

}  // namespace

Result<JarResult> analysed(const JarTest& test) {
  if (!(test.volume_ml > 0)) return wrong("volume_ml", fmt::format("found {}", test.volume_ml), "above 0");
  if (!(test.dry_g > 0)) return wrong("dry_g", fmt::format("found {}", test.dry_g), "above 0");
  if (!above_zero_to(test.height_cm, kTallestContainerCm)) {
    return wrong("height_cm", fmt::format("found {}", test.height_cm),
                 fmt::format("above 0, at most {}", kTallestContainerCm));
  }
  double fill = 0;
  double drained = 0;
  if (poured(test)) {
    fill = *test.water_to_fill_ml;
    drained = *test.water_drained_ml;
  } else if (test.full_g && test.drained_g) {
    fill = *test.full_g - test.dry_g;
    drained = *test.full_g - *test.drained_g;
  } else {
    return wrong("", "the water is missing", "water_to_fill_ml and water_drained_ml, or full_g and drained_g");
  }
  if (!between(fill, 0, test.volume_ml)) {
    return wrong(fill_field(test), fmt::format("found {:.4g} mL in a jar of {:.4g} mL", fill, test.volume_ml),
                 "above 0, below the volume of the jar");
  }
  if (!between(drained, 0, fill)) {
    return wrong(drained_field(test), fmt::format("found {:.4g} mL of {:.4g} mL", drained, fill),
                 "above 0, below the water to fill");
  }
  const double v = test.volume_ml;
  const double e = relative_error(test);
  JarResult result;
  result.porosity = about(fill / v, e * fill / v);
  result.air = about(drained / v, e * drained / v);
  result.water = about((fill - drained) / v, test.reading_error * std::hypot(fill, drained) / v);
  result.bulk_density_kg_l = about(test.dry_g / v, e * test.dry_g / v);
  return result;
}

Result<Material> with_jar_test(Material estimate, const JarTest& test, const std::string& source) {
  const auto jar = analysed(test);
  if (!jar) return jar.error();
  const double inside = estimate.inside_water.quantity.value;
  const auto of_medium = [&](double all) { return (all - inside) / (1 - inside); };
  const Quantity pores{of_medium(jar->porosity.value), of_medium(jar->porosity.low), of_medium(jar->porosity.high)};
  if (!(pores.low > 0)) {
    return wrong(fill_field(test),
                 fmt::format("it fills {:.2g} of the jar, no more than the grains hold inside", jar->porosity.value),
                 "more water, or a smaller inside_water");
  }
  const double residual = estimate.residual.quantity.value * pores.value;
  const double n = estimate.n.quantity.value;
  const auto alpha = [&](double air) { return alpha_for_air(pores.value, residual, n, test.height_cm, air); };
  const auto value = alpha(jar->air.value);
  if (!value) {
    return wrong(drained_field(test),
                 fmt::format("{:.2g} of the jar drained; pores of this kind cannot do that", jar->air.value),
                 fmt::format("below {:.2g}", pores.value - residual));
  }
  estimate.bulk_density_kg_l = {jar->bulk_density_kg_l, "kg/L", source, Trust::B};
  estimate.porosity = {pores, "share", source, Trust::B};
  estimate.alpha_per_cm = ProfileValue{
      {*value, alpha(jar->air.low).value_or(*value), alpha(jar->air.high).value_or(*value)}, "1/cm", source, Trust::B};
  return estimate;
}

}  // namespace strikebed::mix
