#include "base/number.hpp"

#include <fast_float/fast_float.h>

#include <cmath>
#include <system_error>

namespace strikebed {

std::optional<LeadingNumber> parse_leading_number(std::string_view text) {
  double number = 0;
  const char* const end = text.data() + text.size();
  const auto [after, failed] = fast_float::from_chars(text.data(), end, number);
  if (failed != std::errc{} || !std::isfinite(number)) return std::nullopt;
  return LeadingNumber{number, {after, static_cast<std::size_t>(end - after)}};
}

std::optional<double> parse_number(std::string_view text) {
  const auto leading = parse_leading_number(text);
  if (!leading || !leading->rest.empty()) return std::nullopt;
  return leading->number;
}

}  // namespace strikebed
