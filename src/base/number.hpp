#pragma once
// Numbers read from text, alike on every machine.
#include <optional>
#include <string_view>

namespace strikebed {

/// The number that a text is from end to end, such as "12", "-0.5" or "1e-3": correctly rounded, with a point whatever
/// the machine's language, without blanks or a plus before it. Nothing when it is anything else, or not finite.
[[nodiscard]] std::optional<double> parse_number(std::string_view text);

struct LeadingNumber {
  double number;
  std::string_view rest;  ///< of the text, after it
};
/// The same for the longest number that a text begins with: "2 grit" is 2 and " grit".
[[nodiscard]] std::optional<LeadingNumber> parse_leading_number(std::string_view text);

}  // namespace strikebed
