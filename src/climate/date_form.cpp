#include "climate/date_form.hpp"

#include <algorithm>
#include <array>

#include "base/date.hpp"
#include "climate/cells.hpp"

namespace strikebed::climate {
namespace {

bool is_digit(char c) { return c >= '0' && c <= '9'; }
bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }
char lower(char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; }

bool same_letters(std::string_view a, std::string_view b) {
  return a.size() == b.size() &&
         std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) { return lower(x) == lower(y); });
}

/// Takes 1 to `most` digits off the front.
std::optional<int> take_number(std::string_view& text, std::size_t most) {
  std::size_t count = 0;
  int number = 0;
  while (count < text.size() && is_digit(text[count])) {
    if (count == most) return std::nullopt;
    number = number * 10 + (text[count++] - '0');
  }
  if (count == 0) return std::nullopt;
  text.remove_prefix(count);
  return number;
}

bool take(std::string_view& text, char wanted) {
  if (text.empty() || text[0] != wanted) return false;
  text.remove_prefix(1);
  return true;
}

/// Takes any of blanks, commas, hyphens, slashes and dots off the front.
void take_joints(std::string_view& text) {
  while (!text.empty() && (text[0] == ' ' || text[0] == ',' || text[0] == '-' || text[0] == '/' || text[0] == '.')) {
    text.remove_prefix(1);
  }
}

std::string_view take_word(std::string_view& text) {
  std::size_t count = 0;
  while (count < text.size() && is_letter(text[count])) ++count;
  const std::string_view word = text.substr(0, count);
  text.remove_prefix(count);
  return word;
}

/// "May", "Sept", "september": 1-12.
std::optional<int> month_named(std::string_view word) {
  for (int month = 1; month <= 12; ++month) {
    const std::string_view name = month_name(month);
    if (same_letters(word, name) || same_letters(word, name.substr(0, 3))) return month;
  }
  if (same_letters(word, "sept")) return 9;
  return std::nullopt;
}

bool is_weekday(std::string_view word) {
  for (int day = 1; day <= 7; ++day) {
    const std::string_view name = weekday_name(day);
    if (word.size() >= 2 && word.size() <= name.size() && same_letters(word, name.substr(0, word.size()))) return true;
  }
  return false;
}

std::optional<int> take_year(std::string_view& text) {
  if (text.size() < 4 || !std::all_of(text.begin(), text.begin() + 4, is_digit)) return std::nullopt;
  if (text.size() > 4 && is_digit(text[4])) return std::nullopt;
  return take_number(text, 4);
}

std::optional<WrittenDate> read_year_first(std::string_view& text) {
  const auto year = take_year(text);
  if (!year || text.empty()) return std::nullopt;
  const char joint = text[0];
  if (joint != '-' && joint != '/' && joint != '.') return std::nullopt;
  text.remove_prefix(1);
  const auto month = take_number(text, 2);
  if (!month || !take(text, joint)) return std::nullopt;
  const auto day = take_number(text, 2);
  if (!day) return std::nullopt;
  return WrittenDate{*year, *month, *day};
}

/// 20270501, and 202705011430 with the time behind it.
std::optional<WrittenDate> read_compact(std::string_view& text) {
  std::size_t count = 0;
  while (count < text.size() && is_digit(text[count])) ++count;
  if (count != 8 && count != 12) return std::nullopt;
  const int whole = read_whole(text.substr(0, 8)).value_or(0);
  text.remove_prefix(8);
  return WrittenDate{whole / 10000, whole / 100 % 100, whole % 100};
}

std::optional<WrittenDate> read_digits(std::string_view& text) {
  const auto first = take_number(text, 2);
  if (!first || text.empty()) return std::nullopt;
  const char joint = text[0];
  if (joint != '/' && joint != '-' && joint != '.') return std::nullopt;
  text.remove_prefix(1);
  const auto second = take_number(text, 2);
  if (!second || !take(text, joint)) return std::nullopt;
  const auto year = take_year(text);
  if (!year) return std::nullopt;
  return WrittenDate{*year, *first, *second};
}

std::optional<WrittenDate> read_month_named(std::string_view& text) {
  if (!text.empty() && is_letter(text[0])) {
    std::string_view after = text;
    if (is_weekday(take_word(after))) {
      text = after;
      take_joints(text);
    }
  }
  std::optional<int> day;
  std::optional<int> month;
  if (!text.empty() && is_letter(text[0])) {  // May 1, 2027
    month = month_named(take_word(text));
    take_joints(text);
    day = take_number(text, 2);
  } else {  // 1 May 2027
    day = take_number(text, 2);
    take_joints(text);
    month = month_named(take_word(text));
  }
  take_joints(text);
  const auto year = take_year(text);
  if (!day || !month || !year) return std::nullopt;
  return WrittenDate{*year, *month, *day};
}

/// Z, UTC, GMT, +01:00, -0800, +02 at the front; false when something else is there.
bool take_zone(std::string_view& text) {
  if (!text.empty() && (text[0] == '+' || text[0] == '-')) {
    text.remove_prefix(1);
    std::size_t digits = 0;
    while (!text.empty() && (is_digit(text[0]) || (text[0] == ':' && digits == 2)) && digits < 4) {
      if (text[0] != ':') ++digits;
      text.remove_prefix(1);
    }
    return digits == 2 || digits == 4;
  }
  const std::string_view word = take_word(text);
  return same_letters(word, "Z") || same_letters(word, "UTC") || same_letters(word, "GMT");
}

}  // namespace

std::optional<DateForm> date_form_of(std::string_view cell) {
  for (const DateForm form : {DateForm::year_first, DateForm::compact, DateForm::digits, DateForm::month_named}) {
    std::string_view rest;
    if (read_date(form, cell, rest)) return form;
  }
  return std::nullopt;
}

std::optional<WrittenDate> read_date(DateForm form, std::string_view cell, std::string_view& rest) {
  std::optional<WrittenDate> date;
  switch (form) {
    case DateForm::year_first:
      date = read_year_first(cell);
      break;
    case DateForm::compact:
      date = read_compact(cell);
      break;
    case DateForm::digits:
      date = read_digits(cell);
      break;
    case DateForm::month_named:
      date = read_month_named(cell);
      break;
  }
  rest = cell;
  return date;
}

std::optional<WrittenTime> read_time(std::string_view cell) {
  const auto take_blanks = [&] {
    while (!cell.empty() && cell[0] == ' ') cell.remove_prefix(1);
  };
  take_blanks();
  if (!cell.empty() && (cell[0] == 'T' || cell[0] == 't')) cell.remove_prefix(1);
  std::size_t digits = 0;
  while (digits < cell.size() && is_digit(cell[digits])) ++digits;
  int hour = 0;
  int minute = 0;
  if (digits == 3 || digits == 4) {  // 1400
    const int whole = read_whole(cell.substr(0, digits)).value_or(0);
    hour = whole / 100;
    minute = whole % 100;
    cell.remove_prefix(digits);
  } else {
    const auto written = take_number(cell, 2);
    if (!written) return std::nullopt;
    hour = *written;
    if (take(cell, ':')) {
      if (cell.size() < 2 || !is_digit(cell[1])) return std::nullopt;
      const auto minutes = take_number(cell, 2);
      if (!minutes) return std::nullopt;
      minute = *minutes;
      if (take(cell, ':')) {
        const auto second = take_number(cell, 2);
        if (!second || *second > 60) return std::nullopt;
        if (take(cell, '.') && !take_number(cell, 9)) return std::nullopt;
      }
    } else if (take(cell, '.')) {  // an hour number that a spreadsheet wrote as 14.0
      const auto fraction = take_number(cell, 3);
      if (!fraction || *fraction != 0) return std::nullopt;
    }
  }
  take_blanks();
  WrittenTime time;
  if (!cell.empty() && (lower(cell[0]) == 'a' || lower(cell[0]) == 'p')) {
    const bool afternoon = lower(cell[0]) == 'p';
    if (cell.size() < 2 || lower(cell[1]) != 'm' || hour < 1 || hour > 12) return std::nullopt;
    hour = hour % 12 + (afternoon ? 12 : 0);
    cell.remove_prefix(2);
    take_blanks();
  }
  if (!cell.empty()) {
    if (!take_zone(cell) || !cell.empty()) return std::nullopt;
    time.zoned = true;
  }
  if (minute > 59 || hour > 24 || (hour == 24 && minute > 0)) return std::nullopt;
  time.minute = hour * 60 + minute;
  return time;
}

std::optional<int> day_number(int year, int month, int day) {
  if (year < kFirstYear || year > kLastYear || month < 1 || month > 12 || day < 1 || day > days_in_month(year, month)) {
    return std::nullopt;
  }
  return static_cast<int>(make_date(year, month, day).time_since_epoch().count());
}

std::string why_no_date(std::string_view cell) {
  if (const auto whole = read_whole(cell); whole && cell.size() == 5) return "it looks like a spreadsheet's day number";
  std::string_view text = cell;
  std::size_t groups = 0;
  while (groups < 3 && take_number(text, 2)) {
    ++groups;
    if (groups < 3) take_joints(text);
  }
  if (groups == 3) return "the year has only two digits";
  return {};
}

}  // namespace strikebed::climate
