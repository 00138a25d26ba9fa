#include "growth/stages.hpp"

#include <cmath>

namespace strikebed::growth {

double chilling_factor(double chill_days, double full_days, double unchilled_factor) {
  if (full_days <= 0 || chill_days >= full_days) return 1;
  const double at_full = std::exp(-3.0);
  return 1 + (unchilled_factor - 1) * (std::exp(-3 * chill_days / full_days) - at_full) / (1 - at_full);
}

double losses_by_age(double age_days, double half_age_days) { return 1 - std::exp2(-age_days / half_age_days); }

}  // namespace strikebed::growth
