#include "mix/material.hpp"

#include <cmath>

#include "mix/retention.hpp"

namespace strikebed::mix {

double Material::typical_alpha_per_cm() const {
  return alpha_per_cm ? alpha_per_cm->quantity.value : draining_alpha_per_cm(grains.middle_mm());
}

double drawn(const Quantity& quantity, double z) {
  if (quantity.value <= 0) return 0;
  const double end = z < 0 ? quantity.low : quantity.high;
  return quantity.value * std::pow(end / quantity.value, std::fabs(z) / kScore95);
}

}  // namespace strikebed::mix
