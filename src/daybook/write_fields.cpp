#include "daybook/write_fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <nlohmann/json.hpp>

#include "base/number.hpp"

namespace strikebed::daybook {

std::string shortest(double number) {
  constexpr double kAllWhole = 1e15;
  constexpr int kMostZeros = 6;
  if (number == std::floor(number) && std::fabs(number) < kAllWhole) {
    return fmt::format("{}", static_cast<std::int64_t>(number));
  }
  const std::string text = fmt::format("{}", number);
  const std::size_t e = text.find('e');
  if (e == std::string::npos) return text;
  const int exponent = static_cast<int>(parse_number(text.substr(text[e + 1] == '+' ? e + 2 : e + 1)).value_or(0));
  std::string mantissa = text.substr(0, e);
  if (exponent >= 0 || exponent < -kMostZeros) return fmt::format("{}e{:+}", mantissa, exponent);
  const std::string sign = mantissa.front() == '-' ? "-" : "";
  std::erase_if(mantissa, [](char c) { return c == '-' || c == '.'; });
  return sign + "0." + std::string(static_cast<std::size_t>(-exponent - 1), '0') + mantissa;
}

void write_string(std::string_view text, std::string& out) {
  const auto is_plain = [](char c) {
    return static_cast<unsigned char>(c) >= 0x20 && static_cast<unsigned char>(c) < 0x80 && c != '"' && c != '\\';
  };
  if (std::all_of(text.begin(), text.end(), is_plain)) {
    out += '"';
    out += text;
    out += '"';
    return;
  }
  out += nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

void write_value(const EntryId& id, std::string& out) { out += '"' + to_text(id) + '"'; }
void write_value(const Moment& moment, std::string& out) { out += '"' + to_iso(moment) + '"'; }
void write_value(Date day, std::string& out) { out += '"' + strikebed::to_iso(day) + '"'; }

}  // namespace strikebed::daybook
