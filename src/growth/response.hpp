#pragma once
// How fast growth goes at a temperature: 1 at the optimum, 0 at and beyond base and ceiling.
#include "growth/species.hpp"

namespace strikebed::growth {

/// Two straight limbs (triangular): germination and ripening.
/// Source: Garcia-Huidobro, Monteith & Squire 1982, J. Exp. Bot. 33:288-296.
[[nodiscard]] double triangular_response(double temperature_c, const Cardinal& cardinal);

/// Wang & Engel 1998 (Agric. Syst. 58:1-24), smooth at the optimum: rooting.
[[nodiscard]] double wang_engel_response(double temperature_c, const Cardinal& cardinal);

/// Thermal time gained in one day at a constant temperature, °C d: response x (optimum - base). On the lower limb of
/// the triangular response this is the plain degree-day, temperature - base.
[[nodiscard]] double thermal_time_per_day(double response, const Cardinal& cardinal);

}  // namespace strikebed::growth
