#include "climate/csv_dates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "climate/cells.hpp"

namespace strikebed::climate {
namespace {

std::string real_days() { return fmt::format("real days of the years {} to {}", kFirstYear, kLastYear); }

}  // namespace

Error CsvDates::bad_date(const CsvRowTime& parts, std::string_view cell, Role role, std::string problem,
                         std::string allowed) const {
  const int at = cell.data() ? column_at(parts.line_start, std::max(parts.line_start, cell.data())) : 0;
  return Error{std::move(problem), std::move(allowed), header_.name(role), name_, parts.line, at};
}

Result<RowStamp> CsvDates::read(const CsvRowTime& parts, NoticeBook& notices) {
  RowStamp row{0, 0, parts.line};
  if (auto error = header_.dated_in_parts ? date_from_parts(parts, row) : date_from_cell(parts, row, notices)) {
    return *error;
  }
  if (header_.has(Role::time)) {
    const std::string_view cell = parts.of(Role::time);
    const auto time = read_time(cell);
    if (!time) {
      return bad_date(parts, cell, Role::time, fmt::format("{} is not a time of day", shown(cell)),
                      "such as 14:00, 2:00 PM or 14");
    }
    set_time(*time, parts, row, notices);
  }
  return row;
}

void CsvDates::set_time(const WrittenTime& time, const CsvRowTime& parts, RowStamp& row, NoticeBook& notices) {
  row.minute = time.minute;
  timed_ = true;
  if (time.zoned && !zone_noticed_) {
    zone_noticed_ = true;
    notices.once(NoticeKind::zone_left_aside, Role::date, {}, parts.line);
  }
}

std::optional<Error> CsvDates::date_from_parts(const CsvRowTime& parts, RowStamp& row) const {
  const bool by_day_of_year = !(header_.has(Role::month) && header_.has(Role::day));
  const auto whole = [&](Role role) -> std::optional<int> {
    const auto number = read_number(parts.of(role), decimal_comma_);
    if (!number || *number != std::floor(*number) || std::abs(*number) > 9999) return std::nullopt;
    return static_cast<int>(*number);
  };
  const Role second = by_day_of_year ? Role::day_of_year : Role::month;
  const auto year = whole(Role::year);
  const auto place = whole(second);  // of the day in the year, or of the month
  if (!year || !place) {
    const Role role = year ? second : Role::year;
    return bad_date(parts, parts.of(role), role,
                    fmt::format("{} is not a {}", shown(parts.of(role)), about(role).meaning), "a whole number");
  }
  std::optional<int> day;
  if (by_day_of_year) {
    const int last = day_number(*year, 2, 29) ? 366 : 365;
    day = day_number(*year, 1, 1);
    if (*place < 1 || *place > last) day.reset();
    if (day) *day += *place - 1;
  } else {
    day = day_number(*year, *place, whole(Role::day).value_or(0));
  }
  if (!day) {
    const Role role = by_day_of_year ? Role::day_of_year : Role::day;
    const std::string written = by_day_of_year ? fmt::format("day {} of {}", shown(parts.of(Role::day_of_year)), *year)
                                               : fmt::format("year {}, month {}, day {}", shown(parts.of(Role::year)),
                                                             shown(parts.of(Role::month)), shown(parts.of(Role::day)));
    return bad_date(parts, parts.of(role), role, fmt::format("there is no such day: {}", written), real_days());
  }
  row.day = *day;
  return std::nullopt;
}

std::optional<Error> CsvDates::date_from_cell(const CsvRowTime& parts, RowStamp& row, NoticeBook& notices) {
  const std::string_view cell = parts.of(Role::date);
  if (!form_) {
    form_ = date_form_of(cell);
    if (!form_) {
      const std::string reason = why_no_date(cell);
      return bad_date(
          parts, cell, Role::date, fmt::format("{} is not a date{}{}", shown(cell), reason.empty() ? "" : ": ", reason),
          "dates such as 2027-05-01, 20270501, 1 May 2027, May 1, 2027 or 5/1/2027, years with four digits");
    }
    first_date_ = cell;
  }
  std::string_view rest;
  // most rows of an hourly file repeat the day of the row before
  if (!day_text_.empty() && cell.size() > day_text_.size() && cell.substr(0, day_text_.size()) == day_text_ &&
      (cell[day_text_.size()] == ' ' || cell[day_text_.size()] == 'T')) {
    row.day = day_of_text_;
    rest = cell.substr(day_text_.size());
  } else {
    const auto date = read_date(*form_, cell, rest);
    if (!date) return unlike_the_first(parts, cell);
    if (*form_ == DateForm::digits) {
      if (auto error = note_digits(*date, parts, cell)) return error;
      row.day = (date->year * 100 + date->first) * 100 + date->second;
    } else {
      const auto day = day_number(date->year, date->first, date->second);
      if (!day) {
        return bad_date(parts, cell, Role::date, fmt::format("there is no such day: {}", shown(cell)), real_days());
      }
      row.day = *day;
    }
    day_text_ = cell.substr(0, cell.size() - rest.size());
    day_of_text_ = row.day;
  }
  if (rest.empty() || header_.has(Role::time)) {
    if (rest.empty() || rest.find_first_not_of(" T0:.Z") == std::string_view::npos) return std::nullopt;
  }
  const auto time = read_time(rest);
  if (!time) return unlike_the_first(parts, cell);
  set_time(*time, parts, row, notices);
  return std::nullopt;
}

Error CsvDates::unlike_the_first(const CsvRowTime& parts, std::string_view cell) const {
  const std::string reason = why_no_date(cell);
  return bad_date(parts, cell, Role::date,
                  fmt::format("{} is not a date{}{}", shown(cell), reason.empty() ? "" : ": ", reason),
                  fmt::format("dates written like the first one, {}", shown(first_date_)));
}

/// Keeps track of what dates in digits say about their order.
std::optional<Error> CsvDates::note_digits(const WrittenDate& date, const CsvRowTime& parts, std::string_view cell) {
  const bool possible_day = date.first >= 1 && date.second >= 1 && date.first <= 31 && date.second <= 31 &&
                            (date.first <= 12 || date.second <= 12) && date.year >= kFirstYear &&
                            date.year <= kLastYear;
  if (!possible_day) {
    return bad_date(parts, cell, Role::date, fmt::format("there is no such day: {}", shown(cell)), real_days());
  }
  if (date.first > 12 && day_first_line_ == 0) day_first_line_ = parts.line;
  if (date.second > 12 && month_first_line_ == 0) month_first_line_ = parts.line;
  return std::nullopt;
}

/// Turns dates in digits into days, once the column (or the user) has told their order.
std::optional<Error> CsvDates::settle(DateOrder order, std::vector<RowStamp>& rows) const {
  if (form_ != DateForm::digits) return std::nullopt;
  const auto wrong = [&](std::string problem, std::string allowed, int line) {
    return Error{std::move(problem), std::move(allowed), header_.name(Role::date), name_, line};
  };
  if (order == DateOrder::unknown) {
    if (day_first_line_ > 0 && month_first_line_ > 0) {
      return wrong(fmt::format("the order of day and month changes: line {} has the day first, line {} the month",
                               day_first_line_, month_first_line_),
                   "one order in the whole column", std::max(day_first_line_, month_first_line_));
    }
    if (day_first_line_ == 0 && month_first_line_ == 0) {
      return wrong(fmt::format("dates like {} may mean day/month or month/day, and no row of the file tells which",
                               shown(first_date_)),
                   "dates such as 2027-05-01; or <date_order> day-first or month-first",
                   rows.empty() ? 0 : rows.front().line);
    }
    order = day_first_line_ > 0 ? DateOrder::day_first : DateOrder::month_first;
  }
  for (RowStamp& row : rows) {
    const int year = row.day / 10000;
    const int first = row.day / 100 % 100;
    const int second = row.day % 100;
    const bool day_first = order == DateOrder::day_first;
    const auto day = day_number(year, day_first ? second : first, day_first ? first : second);
    if (!day) {
      return wrong(fmt::format("there is no such day: {}/{}/{} with the {} first", first, second, year,
                               day_first ? "day" : "month"),
                   real_days(), row.line);
    }
    row.day = *day;
  }
  return std::nullopt;
}

}  // namespace strikebed::climate
