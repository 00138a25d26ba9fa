#pragma once
// The forecast as JSON (docs/json.md).
#include <string>

#include "print/forecast_shown.hpp"

namespace strikebed::print {

[[nodiscard]] std::string forecast_json(const ForecastShown& shown);

}  // namespace strikebed::print
