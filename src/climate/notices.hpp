#pragma once
// What was repaired or is doubtful in a weather file: collected while it is read, one entry for a run of the same.
#include <array>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "climate/columns.hpp"
#include "climate/record.hpp"

namespace strikebed::climate {

/// What a notice is about; the most serious first, which is the order they are shown in.
enum class NoticeKind {
  long_gap,
  too_few_hours,  ///< a day of fewer than 20 hours
  filled,
  few_hours,  ///< a day of 20 to 23 hours
  not_a_number,
  impossible,
  swapped,
  short_row,
  doubled,
  clock_change,
  out_of_order,
  general,  ///< about the file as a whole: assumed units, dropped offsets
  missing
};
inline constexpr int kNoticeKinds = 13;

/// Collects notices. What is found in one row after the other (on one day after the other) becomes one notice; the
/// first kKept of each kind and column are kept and the rest counted, so that no file can fill memory.
class NoticeBook {
 public:
  static constexpr long kKept = 1000;

  /// The first finding of a run, in words, and the character in its line where it stands (0: none).
  struct Found {
    std::string text;
    int column = 0;
  };

  /// Notes a finding. `place`: one more than that of the finding before when the two are neighbours: the line, or the
  /// number of the day. `make_found` is called only when a new run begins. `role`: the column it is about; Role::date
  /// for the whole row.
  template <class MakeFound>
  void note(NoticeKind kind, Role role, int line, int place, MakeFound make_found) {
    Series& series = series_[index(kind, role)];
    ++series.findings;
    const bool continues = series.runs > 0 && place == series.last_place + 1;
    series.last_place = place;
    if (!continues && series.runs++ < kKept) {
      Found found = make_found();
      series.last_run = runs_.size();
      runs_.push_back(
          {kind, role, {.text = std::move(found.text), .line = line, .column = found.column, .last_line = line}});
    } else if (continues && series.runs <= kKept) {
      Notice& run = runs_[series.last_run].notice;
      run.last_line = line;
      ++run.findings;
    }
  }
  void general(std::string text, int line = 0, int column = 0);

  /// All notices by kind and column, in the order found, each series followed by how many more there were.
  [[nodiscard]] std::vector<Notice> finish() &&;

 private:
  struct Run {
    NoticeKind kind;
    Role role;
    Notice notice;
  };
  struct Series {
    long findings = 0;
    long runs = 0;
    int last_place = 0;
    std::size_t last_run = 0;  // in runs_, while runs <= kKept
  };
  static std::size_t index(NoticeKind kind, Role role) {
    return static_cast<std::size_t>(kind) * kRoles + static_cast<std::size_t>(role);
  }
  std::array<Series, static_cast<std::size_t>(kNoticeKinds) * kRoles> series_{};
  std::vector<Run> runs_;
};

}  // namespace strikebed::climate
