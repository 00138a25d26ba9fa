#include "print/json.hpp"

#include <fmt/format.h>

#include <cmath>

#include "base/number.hpp"
#include "base/shown_text.hpp"

namespace strikebed::print {

Json number(double value) {
  constexpr double kNothing = 1e-12;
  if (!std::isfinite(value)) return nullptr;
  if (std::fabs(value) < kNothing) return 0.0;
  return parse_number(fmt::format("{:.6g}", value)).value_or(value);
}

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

std::string document(const Json& json) {
  constexpr int kIndent = 2;
  const std::string text = json.dump(kIndent, ' ', false, Json::error_handler_t::replace) + "\n";
  return without_controls(text, [](std::optional<char32_t> code) {
    return fmt::format("\\u{:04x}", static_cast<unsigned>(code.value_or(0xFFFD)));
  });
}

}  // namespace strikebed::print
