#include "nursery/time_zone.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>

#include "base/nearest.hpp"
#include "base/text.hpp"
#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

constexpr int kWesternmost = -12 * 60;
constexpr int kEasternmost = 14 * 60;

std::string offset_zone(int minutes) {
  return fmt::format("UTC{}{:02}:{:02}", minutes < 0 ? '-' : '+', std::abs(minutes) / 60, std::abs(minutes) % 60);
}

/// One or two digits as a number below `end`.
std::optional<int> small_number(std::string_view digits, int end) {
  if (digits.empty() || digits.size() > 2) return std::nullopt;
  int number = 0;
  for (const char digit : digits) {
    if (digit < '0' || digit > '9') return std::nullopt;
    number = 10 * number + (digit - '0');
  }
  return number < end ? std::optional(number) : std::nullopt;
}

/// Minutes east of Greenwich; nothing when this is no offset: [UTC|GMT][ ](+|-)h[h][[:]mm].
std::optional<int> parse_offset(const std::string& written) {
  const std::string small = lower(written);
  std::string_view rest = small;
  if (rest.starts_with("utc") || rest.starts_with("gmt")) rest.remove_prefix(3);
  if (rest.starts_with(' ')) rest.remove_prefix(1);
  if (!rest.starts_with('+') && !rest.starts_with('-')) return std::nullopt;
  const int sign = rest.front() == '-' ? -1 : 1;
  rest.remove_prefix(1);
  std::string_view of_minutes;
  if (rest.size() > 2) {
    of_minutes = rest.substr(rest.size() - 2);
    rest.remove_suffix(2);
    if (rest.ends_with(':')) rest.remove_suffix(1);
  }
  const auto hours = small_number(rest, 100);
  const auto minutes = of_minutes.empty() ? std::optional(0) : small_number(of_minutes, 60);
  if (!hours || !minutes) return std::nullopt;
  return sign * (*hours * 60 + *minutes);
}

}  // namespace

Result<std::string> parse_time_zone(const std::string& written, const std::vector<std::string>& names) {
  Error error{.problem = fmt::format("found \"{}\"", written), .allowed = std::string(kTimeZoneAllowed)};
  if (written == "Z") return offset_zone(0);
  if (const auto minutes = parse_offset(written)) {
    if (*minutes >= kWesternmost && *minutes <= kEasternmost) return offset_zone(*minutes);
    error.allowed = "an offset from -12:00 to +14:00";
    return error;
  }
  if (std::find(names.begin(), names.end(), written) != names.end()) return written;
  if (names.empty()) {
    error.problem += ", and the names of the time-zone database (package tzdata) are not here";
    error.allowed = "an offset from UTC, such as \"+01:00\"";
  } else {
    error.problem += did_you_mean(written, std::vector<std::string_view>(names.begin(), names.end()));
  }
  return error;
}

std::string zone_of_longitude(double longitude_deg) {
  return offset_zone(static_cast<int>(std::lround(longitude_deg / 15)) * 60);
}

}  // namespace strikebed::nursery
