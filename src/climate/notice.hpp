#pragma once
// What was repaired or is doubtful in a weather file, as facts. src/print puts them into words.
#include <optional>
#include <string>
#include <string_view>

#include "base/date.hpp"
#include "climate/columns.hpp"

namespace strikebed::climate {

/// What a notice is about, and which facts of the finding it has; the most serious first, which is the order they are
/// shown in.
enum class NoticeKind {
  long_gap,       ///< `count` days from `when` to `other` without temperature: too long to fill, or at the edge
  too_few_hours,  ///< the day `when` has `count` hours of temperature, fewer than `of`, and counts as missing
  filled,         ///< `count` days from `when` to `other`, by a straight line
  few_hours,      ///< the day `when` has `count` of 24 hours
  not_a_number,   ///< `cell` of the column `name`; taken as missing
  impossible,     ///< `cell` of the column `name` is not from `low` to `high`; taken as missing
  sunny_day,      ///< more radiation on the day `when`, `low`, than arrives above the air, `high`; taken as missing
  swapped,        ///< on the day `when` the minimum, `low`, was above the maximum, `high`
  short_row,      ///< `count` of `of` cells
  doubled,        ///< `when` is there twice with the same values, first in line `first_line`; dropped
  clock_change,   ///< `when` is there twice with different values; kept, as when clocks are set back
  out_of_order,   ///< `when` comes after `other`
  // About the file as a whole; each is found once (in each column).
  strange_unit,         ///< `cell` of the column `name` is no unit that is known; not read
  unread,               ///< `count` columns that the table of names does not know; the first of them in `name`
  no_unit,              ///< of the column `name`; read in that of `low`
  wind_height,          ///< `low`; multiplied by `factor` for 2 m above the ground
  wind_height_of_form,  ///< the same, by the form of the file
  wind_height_unknown,  ///< taken as 2 m
  zone_left_aside,      ///< days are local days as written
  typical_year,         ///< put together from months of different years, written as those of `count`
  place,                ///< `name` in `cell`, `low` from UTC
  leap_day,             ///< left out of a typical year
  no_rain,              ///< 0 in every hour; taken as not measured
  missing,              ///< `cell` of the column `name`
};
inline constexpr int kNoticeKinds = 24;
[[nodiscard]] constexpr bool is_about_file(NoticeKind kind) {
  return kind >= NoticeKind::strange_unit && kind <= NoticeKind::no_rain;
}

struct Moment {
  Date date = {};
  std::optional<int> minute = {};  ///< of the day, where rows are hours
  bool operator==(const Moment&) const = default;
};

/// A number with its unit, as it stands in the file.
struct WrittenNumber {
  double number = 0;
  std::string_view unit = {};
  bool operator==(const WrittenNumber&) const = default;
};

struct Finding {
  std::string name = {};  ///< of the column, as the header calls it
  std::string cell = {};  ///< as in the file, in quotation marks (cells.hpp: shown); empty: an empty cell
  Moment when = {};
  Moment other = {};
  WrittenNumber low = {};
  WrittenNumber high = {};
  double factor = 1;
  int count = 0;
  int of = 0;
  int first_line = 0;
  int column = 0;  ///< from 1, characters in the line; 0: no column
  bool operator==(const Finding&) const = default;
};

/// Something the reader should know that did not stop the work. One for a run of the same finding.
struct Notice {
  NoticeKind kind{};
  Role role = Role::date;  ///< the column it is about; date: the row, the day or the file
  Finding finding = {};    ///< the first of the run
  int line = 0;            ///< from 1; 0: no line
  int last_line = 0;       ///< of the run; the same as `line` for a single finding
  long findings = 1;       ///< rows, or days
  bool not_kept = false;   ///< stands for all further findings of its kind and column
};

}  // namespace strikebed::climate
