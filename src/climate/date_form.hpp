#pragma once
// Dates and times of day as people and instruments write them. The form of a column is found once, from its first cell.
#include <optional>
#include <string>
#include <string_view>

namespace strikebed::climate {

/// The order of day and month in dates written all in digits with the year last (5/1/2027).
enum class DateOrder { unknown, day_first, month_first };

enum class DateForm {
  year_first,   ///< 2027-05-01, 2027/5/1, 2027.05.01
  compact,      ///< 20270501
  month_named,  ///< 1 May 2027, 1-May-2027, May 1, 2027, Sat 1 May 2027
  digits        ///< 5/1/2027, 1.5.2027: day and month in an order that only the whole column can tell
};

/// A date as written. For DateForm::digits `first` and `second` are in the order of writing, else month and day.
struct WrittenDate {
  int year = 0;
  int first = 0;
  int second = 0;
};

/// First and last year that a weather record may hold.
inline constexpr int kFirstYear = 1800;
inline constexpr int kLastYear = 2199;

/// The form of a date cell (with or without a time behind it); nothing when it is none that is known.
[[nodiscard]] std::optional<DateForm> date_form_of(std::string_view cell);

/// Reads the date at the start of a cell in the given form; `rest` becomes what follows. Does not check that the day is
/// real. Nothing when the cell is not of that form.
[[nodiscard]] std::optional<WrittenDate> read_date(DateForm form, std::string_view cell, std::string_view& rest);

/// A time of day.
struct WrittenTime {
  int minute = 0;      ///< 0-1440 of the day
  bool zoned = false;  ///< a Z or an offset was written, and left aside
};

/// "14:00", "14:00:30", "2:05 PM", "T14:00Z", "14:00-08:00", "1400", "14"; 24:00 is the end of the day. Nothing when it
/// is no time.
[[nodiscard]] std::optional<WrittenTime> read_time(std::string_view cell);

/// Days since 1970-01-01 of a real day of the years kFirstYear to kLastYear; nothing otherwise.
[[nodiscard]] std::optional<int> day_number(int year, int month, int day);

/// Why a cell is no date, where that can be said: a two-digit year, a spreadsheet's day number; empty otherwise.
[[nodiscard]] std::string why_no_date(std::string_view cell);

}  // namespace strikebed::climate
