#pragma once
// When the rows of a CSV file were: the columns of date and time, whose form and order only the whole column tells.
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "climate/checking.hpp"
#include "climate/csv_header.hpp"
#include "climate/date_form.hpp"

namespace strikebed::climate {

/// What one row says of its time, before it is understood.
struct CsvRowTime {
  std::array<std::string_view, 6> cells{};  ///< date, time, year, month, day, day of the year
  int line = 0;
  const char* line_start = nullptr;
  [[nodiscard]] std::string_view of(Role role) const { return cells[static_cast<std::size_t>(role)]; }
};

class CsvDates {
 public:
  /// Both outlive it.
  CsvDates(const CsvHeader& header, const std::string& file)
      : header_(header), name_(file), decimal_comma_(header.separator != ',') {}

  /// The time of a row. A date in digits is kept as written until settle() has its order.
  /// Errors: no date or time, or not in the form of the first.
  [[nodiscard]] Result<RowStamp> read(const CsvRowTime& parts, NoticeBook& notices);

  /// Turns dates in digits into days, once the column (or the user) has told their order.
  /// Errors: an order that changes or stays open, a day that does not exist.
  [[nodiscard]] std::optional<Error> settle(DateOrder order, std::vector<RowStamp>& rows) const;

  [[nodiscard]] bool timed() const { return timed_; }  ///< a row had a time of day

 private:
  using MaybeError = std::optional<Error>;

  [[nodiscard]] Error bad_date(const CsvRowTime& parts, std::string_view cell, Role role, std::string problem,
                               std::string allowed) const;
  [[nodiscard]] Error unlike_the_first(const CsvRowTime& parts, std::string_view cell) const;
  [[nodiscard]] MaybeError date_from_parts(const CsvRowTime& parts, RowStamp& row) const;
  [[nodiscard]] MaybeError date_from_cell(const CsvRowTime& parts, RowStamp& row, NoticeBook& notices);
  [[nodiscard]] MaybeError note_digits(const WrittenDate& date, const CsvRowTime& parts, std::string_view cell);
  void set_time(const WrittenTime& time, const CsvRowTime& parts, RowStamp& row, NoticeBook& notices);

  const CsvHeader& header_;
  const std::string& name_;
  bool decimal_comma_;
  std::optional<DateForm> form_;  // of the first date
  std::string_view first_date_;
  std::string_view day_text_;  // date part of the row before
  int day_of_text_ = 0;
  bool timed_ = false;
  bool zone_noticed_ = false;
  int day_first_line_ = 0;    // first line whose first number can only be a day
  int month_first_line_ = 0;  // first line whose second number can only be a day
};

}  // namespace strikebed::climate
