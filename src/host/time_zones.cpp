#include "host/time_zones.hpp"

#include <date/tz.h>

#include <exception>

namespace strikebed::host {

std::vector<std::string> time_zone_names() {
  try {
    std::vector<std::string> names;
    for (const date::time_zone& zone : date::get_tzdb().zones) names.push_back(zone.name());
    return names;
  } catch (const std::exception&) {
    return {};
  }
}

}  // namespace strikebed::host
