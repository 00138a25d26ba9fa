#pragma once
// Collects the notices on a weather file while it is read, one entry for a run of the same.
#include <array>
#include <cstddef>
#include <utility>
#include <vector>

#include "climate/notice.hpp"

namespace strikebed::climate {

/// What is found in one row after the other (on one day after the other) becomes one notice; the first kKept of each
/// kind and column are kept and the rest counted, so that no file can fill memory.
class NoticeBook {
 public:
  static constexpr long kKept = 1000;

  /// Notes a finding. `place`: one more than that of the finding before when the two are neighbours: the line, or the
  /// number of the day. `make_finding` is called only when a new run begins. `role`: the column it is about; Role::date
  /// for the whole row.
  template <class MakeFinding>
  void note(NoticeKind kind, Role role, int line, int place, MakeFinding make_finding) {
    Series& series = series_[index(kind, role)];
    ++series.findings;
    const bool continues = series.runs > 0 && place == series.last_place + 1;
    series.last_place = place;
    if (!continues && series.runs++ < kKept) {
      series.last_run = runs_.size();
      runs_.push_back({.kind = kind, .role = role, .finding = make_finding(), .line = line, .last_line = line});
    } else if (continues && series.runs <= kKept) {
      Notice& run = runs_[series.last_run];
      run.last_line = line;
      ++run.findings;
    }
  }
  /// Notes what is found once in the file, or in a column.
  void once(NoticeKind kind, Role role, Finding finding, int line = 0) {
    note(kind, role, line, line, [&] { return std::move(finding); });
  }

  /// All notices by kind and column, in the order found, each series followed by how many more there were.
  [[nodiscard]] std::vector<Notice> finish() &&;

 private:
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
  std::vector<Notice> runs_;
};

}  // namespace strikebed::climate
