#pragma once
// Calendar days. A Date is a whole local day; hours and zones are handled where they matter (climate/sun, nursery).
#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace strikebed {

using Date = std::chrono::sys_days;
using Days = std::chrono::days;

[[nodiscard]] Date make_date(int year, int month, int day);  ///< month 1-12; a day past the month's end is its last day
[[nodiscard]] int year_of(Date date);
[[nodiscard]] int month_of(Date date);      ///< 1-12
[[nodiscard]] int day_of_month(Date date);  ///< 1-31
[[nodiscard]] int day_of_year(Date date);   ///< 1-366
[[nodiscard]] int weekday_of(Date date);    ///< 1 Monday ... 7 Sunday (ISO 8601)
[[nodiscard]] int days_in_month(int year, int month);

/// The same month and day in another year; 29 February becomes 28 February where there is none.
[[nodiscard]] Date same_day_in(Date date, int year);

/// "2027-05-01" and nothing else (ISO 8601 calendar date); nothing when it is not a real day.
[[nodiscard]] std::optional<Date> parse_iso_date(std::string_view text);
[[nodiscard]] std::string to_iso(Date date);                            ///< "2027-05-01"
[[nodiscard]] std::string to_words(Date date);                          ///< "Sat 1 May 2027"
[[nodiscard]] std::string to_short_words(Date date);                    ///< "Sat 1 May"
[[nodiscard]] std::string_view month_name(int month);                   ///< "January"
[[nodiscard]] std::string_view weekday_name(int day);                   ///< 1: "Monday"
[[nodiscard]] std::optional<int> parse_weekday(std::string_view name);  ///< "Saturday", any case: 6

}  // namespace strikebed
