#pragma once
// From rows as read (daily, hourly or finer) to a checked daily record: order, doubles, days, gaps.
#include <array>
#include <string>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "climate/columns.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// What a notice is about. Notices are shown in this order.
enum class NoticeKind {
  general,  ///< about the file as a whole: assumed units, dropped offsets
  missing,
  not_a_number,
  impossible,
  short_row,
  out_of_order,
  doubled,
  clock_change,
  swapped,
  few_hours,      ///< a day of 20 to 23 hours
  too_few_hours,  ///< a day of fewer
  filled,
  long_gap
};
inline constexpr int kNoticeKinds = 13;

/// Collects notices: the first 20 of each kind and column are kept, the rest counted, so that no file can fill memory.
class NoticeBook {
 public:
  static constexpr int kKept = 20;

  /// `make_text` is called only when the notice is kept. `role`: the column it is about; Role::date for the whole row.
  template <class MakeText>
  void note(NoticeKind kind, Role role, int line, int column, MakeText make_text) {
    if (counts_[index(kind, role)]++ < kKept) kept_.push_back({kind, role, {make_text(), line, column}});
  }
  void general(std::string text, int line = 0, int column = 0) {
    note(NoticeKind::general, Role::date, line, column, [&] { return std::move(text); });
  }
  [[nodiscard]] long count(NoticeKind kind, Role role) const { return counts_[index(kind, role)]; }

  /// All notices by kind and column, in the order found, each run followed by how many more there were.
  [[nodiscard]] std::vector<Notice> finish() &&;

 private:
  struct Kept {
    NoticeKind kind;
    Role role;
    Notice notice;
  };
  static std::size_t index(NoticeKind kind, Role role) {
    return static_cast<std::size_t>(kind) * kRoles + static_cast<std::size_t>(role);
  }
  std::array<long, static_cast<std::size_t>(kNoticeKinds) * kRoles> counts_{};
  std::vector<Kept> kept_;
};

/// When a row was, and where it stands in the file.
struct RowStamp {
  int day;     ///< since 1970-01-01
  int minute;  ///< 0-1440 of the day; 0 without a time
  int line;
};

/// A measured column: what it holds, and whether as a rate a day (MJ/m2/day, mm/day) or as the amount of the row.
struct MeasuredColumn {
  Role role;
  std::string name;  ///< as in the file, for messages
  bool per_day = false;
};

/// A file as read: values in °C, mm, %, m/s, MJ/m2; missing ones NaN.
struct Observations {
  std::vector<MeasuredColumn> columns;
  std::vector<RowStamp> rows;
  std::vector<double> values;  ///< row by row, columns.size() each
  bool timed = false;          ///< rows carry a time of day
  double wind_factor = 1;      ///< to 2 m
};

/// A day counts as measured when at least this many of its hours are there; so do hourly columns one by one.
inline constexpr int kHoursNeeded = 20;
/// The longest run of days that is filled.
inline constexpr int kLongestFilledGap = 3;

/// Wind at height z over that at 2 m over short grass: u2 = u_z * this, 4.87 / ln(67.8 z - 5.42).
///   height_m  0.5...200
/// Source: FAO Irrigation and Drainage Paper 56 (Allen et al. 1998), equation 47.
[[nodiscard]] double wind_factor_to_2_m(double height_m);

/// Sorts, drops doubles, gathers hours into local days, puts swapped extremes right, fills short gaps and counts long
/// ones. docs/weather-files.md says what is repaired and what is refused.
/// Errors: no rows; two different rows for one day or hour; no day with temperature; hours too far apart.
[[nodiscard]] Result<WeatherRecord> check_observations(Observations observed, NoticeBook notices, std::string name,
                                                       RecordKind kind);

}  // namespace strikebed::climate
