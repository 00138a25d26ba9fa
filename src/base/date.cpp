#include "base/date.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

namespace strikebed {
namespace {

using std::chrono::year_month_day;

constexpr std::array<std::string_view, 12> kMonths = {"January",   "February", "March",    "April",
                                                      "May",       "June",     "July",     "August",
                                                      "September", "October",  "November", "December"};
constexpr std::array<std::string_view, 7> kWeekdays = {"Monday", "Tuesday",  "Wednesday", "Thursday",
                                                       "Friday", "Saturday", "Sunday"};

std::optional<int> digits(std::string_view text) {
  int number = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    number = number * 10 + (c - '0');
  }
  return number;
}

}  // namespace

Date make_date(int year, int month, int day) {
  return Date{std::chrono::year{year} / std::chrono::month{static_cast<unsigned>(month)} /
              std::chrono::day{static_cast<unsigned>(std::min(day, days_in_month(year, month)))}};
}

int year_of(Date date) { return static_cast<int>(year_month_day{date}.year()); }
int month_of(Date date) { return static_cast<int>(static_cast<unsigned>(year_month_day{date}.month())); }
int day_of_month(Date date) { return static_cast<int>(static_cast<unsigned>(year_month_day{date}.day())); }
int day_of_year(Date date) { return static_cast<int>((date - make_date(year_of(date), 1, 1)).count()) + 1; }
int weekday_of(Date date) { return static_cast<int>(std::chrono::weekday{date}.iso_encoding()); }

int days_in_month(int year, int month) {
  const auto last = std::chrono::year{year} / std::chrono::month{static_cast<unsigned>(month)} / std::chrono::last;
  return static_cast<int>(static_cast<unsigned>(last.day()));
}

Date same_day_in(Date date, int year) { return make_date(year, month_of(date), day_of_month(date)); }

std::optional<Date> parse_iso_date(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto year = digits(text.substr(0, 4));
  const auto month = digits(text.substr(5, 2));
  const auto day = digits(text.substr(8, 2));
  if (!year || !month || !day || *year < 1 || *month < 1 || *month > 12) return std::nullopt;
  if (*day < 1 || *day > days_in_month(*year, *month)) return std::nullopt;
  return make_date(*year, *month, *day);
}

std::string to_iso(Date date) {
  return fmt::format("{:04}-{:02}-{:02}", year_of(date), month_of(date), day_of_month(date));
}

std::string to_short_words(Date date) {
  return fmt::format("{} {} {}", weekday_name(weekday_of(date)).substr(0, 3), day_of_month(date),
                     month_name(month_of(date)).substr(0, 3));
}

std::string to_words(Date date) { return fmt::format("{} {}", to_short_words(date), year_of(date)); }

std::string_view month_name(int month) { return kMonths.at(static_cast<std::size_t>(month - 1)); }
std::string_view weekday_name(int day) { return kWeekdays.at(static_cast<std::size_t>(day - 1)); }

std::optional<int> parse_weekday(std::string_view name) {
  const auto same = [](char a, char b) {
    return std::tolower(static_cast<unsigned char>(a)) == std::tolower(static_cast<unsigned char>(b));
  };
  for (int day = 1; day <= 7; ++day) {
    const std::string_view known = weekday_name(day);
    if (std::equal(known.begin(), known.end(), name.begin(), name.end(), same)) return day;
  }
  return std::nullopt;
}

}  // namespace strikebed
