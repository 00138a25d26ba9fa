#include "nursery/toml_slip.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <optional>

#include "base/date.hpp"

namespace strikebed::nursery {
namespace {

constexpr std::size_t kLongestLine = 300;
constexpr std::string_view kDigits = "0123456789";

bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_of_word(char c) { return is_letter(c) || is_digit(c) || c == '_' || c == '-'; }

/// The line with every quoted text emptied and its comment cut off.
std::string without_quoted(std::string_view line) {
  std::string plain;
  while (!line.empty() && line.front() != '#') {
    const char c = line.front();
    const std::size_t end = c == '"' || c == '\'' ? line.find(c, 1) : std::string_view::npos;
    if (end != std::string_view::npos) {
      plain += "''";
      line.remove_prefix(end + 1);
    } else {
      plain += c;
      line.remove_prefix(1);
    }
  }
  return plain;
}

/// Takes the digits at the front, `most` at most; nothing when they are fewer than `least`.
std::string_view take_digits(std::string_view& text, std::size_t least, std::size_t most) {
  const std::size_t count = std::min({most, text.size(), text.find_first_not_of(kDigits)});
  const std::string_view digits = text.substr(0, count < least ? 0 : count);
  text.remove_prefix(digits.size());
  return digits;
}

/// Takes one of these characters from the front; 0 when none is there.
char take_any(std::string_view& text, std::string_view characters) {
  if (text.empty() || characters.find(text.front()) == std::string_view::npos) return 0;
  const char taken = text.front();
  text.remove_prefix(1);
  return taken;
}

std::string as_iso_date(std::string_view year, std::string_view month, std::string_view day) {
  const std::string iso = fmt::format("{}-{:0>2}-{:0>2}", year, month, day);
  return parse_iso_date(iso) ? "dates as " + iso : "";
}

/// Where a value starts, and the character before it: '=', '[' or ','.
struct ValueStart {
  char before;
  std::string_view rest;
};
/// How to write what starts there; nothing when it is not this slip, empty when it is one without any advice.
using Slip = std::optional<std::string> (*)(ValueStart at);

std::optional<std::string> date_with_year_last(ValueStart at) {
  const std::string_view first = take_digits(at.rest, 1, 2);
  const char separator = first.empty() ? 0 : take_any(at.rest, "./");
  const std::string_view second = separator == 0 ? "" : take_digits(at.rest, 1, 2);
  if (second.empty() || take_any(at.rest, "./") == 0) return std::nullopt;
  const std::string_view year = take_digits(at.rest, 4, 4);
  if (year.empty()) return std::nullopt;
  if (separator == '/') return "dates as 2027-09-15: year, month, day";  // the month may come first
  return as_iso_date(year, second, first);
}

std::optional<std::string> date_with_year_first(ValueStart at) {
  const std::string_view year = take_digits(at.rest, 4, 4);
  if (year.empty() || take_any(at.rest, "./-") == 0) return std::nullopt;
  const std::string_view month = take_digits(at.rest, 1, 2);
  if (month.empty() || take_any(at.rest, "./-") == 0) return std::nullopt;
  const std::string_view day = take_digits(at.rest, 1, 2);
  if (day.empty()) return std::nullopt;
  return as_iso_date(year, month, day);
}

std::optional<std::string> month_and_day(ValueStart at) {
  const std::string_view month = take_digits(at.rest, 2, 2);
  if (month.empty() || take_any(at.rest, "-") == 0) return std::nullopt;
  const std::string_view day = take_digits(at.rest, 2, 2);
  if (day.empty() || (!at.rest.empty() && (is_digit(at.rest.front()) || at.rest.front() == '-'))) return std::nullopt;
  return fmt::format("a month and day in quotes: \"{}-{}\"", month, day);
}

std::optional<std::string> decimal_comma(ValueStart at) {
  if (at.before != '=') return std::nullopt;
  const char sign = take_any(at.rest, "+-");
  const std::string_view whole = take_digits(at.rest, 1, kLongestLine);
  if (whole.empty() || take_any(at.rest, ",") == 0) return std::nullopt;
  const std::string_view decimals = take_digits(at.rest, 1, kLongestLine);
  if (decimals.empty()) return std::nullopt;
  return fmt::format("decimals with a point: {}{}.{}", sign == 0 ? "" : std::string(1, sign), whole, decimals);
}

std::optional<std::string> bare_text(ValueStart at) {
  if (at.rest.empty() || !is_letter(at.rest.front())) return std::nullopt;
  const auto end = std::find_if_not(at.rest.begin(), at.rest.end(), is_of_word);
  const std::string_view word(at.rest.begin(), end);
  const std::string_view behind = at.rest.substr(word.size());
  const std::size_t next = behind.find_first_not_of(' ');
  const bool is_key = next != std::string_view::npos && behind[next] == '=';
  constexpr std::array<std::string_view, 4> kTomlWords{"true", "false", "inf", "nan"};
  const std::string_view stem = word.substr(0, word.find('-'));
  if (is_key || std::find(kTomlWords.begin(), kTomlWords.end(), stem) != kTomlWords.end()) return std::nullopt;
  return fmt::format("text in quotes: \"{}\"", word);
}

}  // namespace

std::string usual_slip(std::string_view line) {
  const std::string plain = without_quoted(line.substr(0, kLongestLine));
  constexpr std::array<Slip, 5> kSlips{date_with_year_last, date_with_year_first, month_and_day, decimal_comma,
                                       bare_text};
  for (const Slip slip : kSlips) {
    for (std::size_t i = plain.find_first_of("=[,"); i != std::string::npos; i = plain.find_first_of("=[,", i + 1)) {
      std::string_view rest = std::string_view(plain).substr(i + 1);
      rest.remove_prefix(std::min(rest.find_first_not_of(' '), rest.size()));
      if (auto advice = slip({plain[i], rest})) return *advice;
    }
  }
  return "";
}

}  // namespace strikebed::nursery
