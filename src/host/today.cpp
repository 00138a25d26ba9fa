#include "host/today.hpp"

#include <ctime>

namespace strikebed::host {

Date today() {
  const std::time_t now = std::time(nullptr);
  std::tm local{};
  ::localtime_r(&now, &local);
  return make_date(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

}  // namespace strikebed::host
