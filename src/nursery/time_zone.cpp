#include "nursery/time_zone.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <regex>
#include <vector>

#include "nursery/toml_file.hpp"

namespace strikebed::nursery {
namespace {

constexpr std::size_t kLongestOffset = 20;
constexpr int kWesternmost = -12 * 60;
constexpr int kEasternmost = 14 * 60;

std::string offset_zone(int minutes) {
  return fmt::format("UTC{}{:02}:{:02}", minutes < 0 ? '-' : '+', std::abs(minutes) / 60, std::abs(minutes) % 60);
}

/// Minutes east of Greenwich; nothing when this is no offset.
std::optional<int> parse_offset(const std::string& written) {
  static const std::regex kForm(R"((?:UTC|GMT)? ?([+-])(\d{1,2})(?::?(\d{2}))?)", std::regex::icase);
  std::smatch parts;
  if (written.size() > kLongestOffset || !std::regex_match(written, parts, kForm)) return std::nullopt;
  const int minutes = std::stoi(parts[2]) * 60 + (parts[3].matched ? std::stoi(parts[3]) : 0);
  return parts[1] == "-" ? -minutes : minutes;
}

}  // namespace

Result<std::string> parse_time_zone(const std::string& written) {
  Error error{.problem = fmt::format("found \"{}\"", written), .allowed = std::string(kTimeZoneAllowed)};
  if (written == "Z") return offset_zone(0);
  if (const auto minutes = parse_offset(written)) {
    if (*minutes >= kWesternmost && *minutes <= kEasternmost) return offset_zone(*minutes);
    error.allowed = "an offset from -12:00 to +14:00";
    return error;
  }
  try {
    const date::tzdb& database = date::get_tzdb();
    std::vector<std::string_view> names;
    names.reserve(database.zones.size());
    for (const date::time_zone& zone : database.zones) names.emplace_back(zone.name());
    if (std::find(names.begin(), names.end(), written) != names.end()) return written;
    error.problem += did_you_mean(written, names);
    return error;
  } catch (const std::exception&) {
    return Error{.problem = "the time-zone database is not on this machine", .allowed = "install the package tzdata"};
  }
}

std::string zone_of_longitude(double longitude_deg) {
  return offset_zone(static_cast<int>(std::lround(longitude_deg / 15)) * 60);
}

}  // namespace strikebed::nursery
