#include "daybook/moment.hpp"

#include <fmt/format.h>

#include <chrono>
#include <cstdlib>

namespace strikebed::daybook {
namespace {

constexpr std::int64_t kMsOfMinute = 60'000;
constexpr std::int64_t kMsOfDay = 24 * 60 * kMsOfMinute;
constexpr std::string_view kForm = "0000-00-00T00:00:00.000+00:00";

std::int64_t local_ms(const Moment& moment) { return moment.ms + moment.offset_min * kMsOfMinute; }

/// The number that stands at a place of the form.
int number_at(std::string_view text, std::size_t place, std::size_t digits) {
  int number = 0;
  for (const char c : text.substr(place, digits)) number = number * 10 + (c - '0');
  return number;
}

bool has_form(std::string_view text) {
  if (text.size() != kForm.size()) return false;
  for (std::size_t i = 0; i < kForm.size(); ++i) {
    const bool fits = kForm[i] == '0'   ? text[i] >= '0' && text[i] <= '9'
                      : kForm[i] == '+' ? text[i] == '+' || text[i] == '-'
                                        : text[i] == kForm[i];
    if (!fits) return false;
  }
  return true;
}

}  // namespace

Date local_day(const Moment& moment) {
  return Date{std::chrono::floor<Days>(std::chrono::milliseconds{local_ms(moment)})};
}

Moment at_wall_clock(Date day, int minute, int offset_min) {
  return {day.time_since_epoch().count() * kMsOfDay + (minute - offset_min) * kMsOfMinute, offset_min};
}

std::string to_iso(const Moment& moment) {
  const std::int64_t of_day = local_ms(moment) - local_day(moment).time_since_epoch().count() * kMsOfDay;
  const int offset = std::abs(moment.offset_min);
  return fmt::format("{}T{:02}:{:02}:{:02}.{:03}{}{:02}:{:02}", strikebed::to_iso(local_day(moment)),
                     of_day / (60 * kMsOfMinute), of_day / kMsOfMinute % 60, of_day / 1000 % 60, of_day % 1000,
                     moment.offset_min < 0 ? '-' : '+', offset / 60, offset % 60);
}

std::optional<Moment> parse_iso_moment(std::string_view text) {
  if (!has_form(text)) return std::nullopt;
  const auto day = parse_iso_date(text.substr(0, 10));
  const int hour = number_at(text, 11, 2);
  const int minute = number_at(text, 14, 2);
  const int second = number_at(text, 17, 2);
  const int offset = number_at(text, 24, 2) * 60 + number_at(text, 27, 2);
  const bool west = text[23] == '-';
  if (!day || hour > 23 || minute > 59 || second > 59 || number_at(text, 27, 2) > 59 || offset > kLargestOffsetMin ||
      (west && offset == 0)) {
    return std::nullopt;
  }
  const int offset_min = west ? -offset : offset;
  const std::int64_t of_day = (hour * 60 + minute - offset_min) * kMsOfMinute + second * 1000 + number_at(text, 20, 3);
  return Moment{day->time_since_epoch().count() * kMsOfDay + of_day, offset_min};
}

}  // namespace strikebed::daybook
