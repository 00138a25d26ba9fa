#include "host/clock.hpp"

#include <chrono>
#include <ctime>

namespace strikebed::host {
namespace {

constexpr std::int64_t kMsInSecond = 1000;
constexpr int kSecondsInMinute = 60;

std::tm local_time(std::time_t at) {
  std::tm local{};
  ::localtime_r(&at, &local);
  return local;
}

daybook::Moment moment_at(std::int64_t ms) {
  const std::int64_t seconds = (ms - (ms % kMsInSecond + kMsInSecond) % kMsInSecond) / kMsInSecond;
  const std::tm local = local_time(static_cast<std::time_t>(seconds));
  return {ms, static_cast<int>(local.tm_gmtoff / kSecondsInMinute)};
}

}  // namespace

Date today() {
  const std::tm local = local_time(std::time(nullptr));
  return make_date(local.tm_year + 1900, local.tm_mon + 1, local.tm_mday);
}

daybook::Moment now() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  return moment_at(std::chrono::duration_cast<std::chrono::milliseconds>(since).count());
}

daybook::Moment wall_clock(Date day, int minute) {
  std::tm local{};
  local.tm_year = year_of(day) - 1900;
  local.tm_mon = month_of(day) - 1;
  local.tm_mday = day_of_month(day);
  local.tm_hour = minute / kSecondsInMinute;
  local.tm_min = minute % kSecondsInMinute;
  local.tm_isdst = -1;  // as the rules of this place say
  return moment_at(static_cast<std::int64_t>(std::mktime(&local)) * kMsInSecond);
}

}  // namespace strikebed::host
