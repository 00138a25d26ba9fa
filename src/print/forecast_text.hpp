#pragma once
// The forecast as text for people.
#include <string>

#include "print/forecast_shown.hpp"

namespace strikebed::print {

[[nodiscard]] std::string forecast_text(const ForecastShown& shown, int width);

}  // namespace strikebed::print
