#pragma once
// The season on one time line, for the text chart and the picture.
#include <optional>
#include <string>
#include <vector>

#include "season/goal.hpp"
#include "season/plan.hpp"

namespace strikebed::print {

[[nodiscard]] Date month_after(Date month);  ///< first day of the month after the one `month` is in

/// Days in a row.
struct DayRun {
  Date first;
  Date last;
  bool usual = true;  ///< false: something to do only in an early or late season
};
struct SeasonRow {
  std::string name;
  std::optional<season::Band> band;  ///< with runs: what they sum up, not to be drawn
  std::vector<DayRun> runs;          ///< single days, those in a row together
  Date band_end = {};                ///< where the drawn band ends: the cutting window at the goal's date
  /// Whether the middle one is drawn: chilling is one fixed stretch, and the end of a window may be beyond the date.
  [[nodiscard]] bool has_middle() const {
    return band && band->kind != season::BandKind::chilling && band->days.typical <= band_end;
  }
  [[nodiscard]] bool is_cut() const { return band && band_end < band->days.late; }
  /// The days of a typical season; where there are none, all.
  struct UsualDays {
    int count = 0;
    Date first = {};
    Date last = {};
  };
  [[nodiscard]] UsualDays usual_days() const;  ///< nothing without runs
};
struct SeasonChart {
  Date from;  ///< first day of a month
  Date to;    ///< first day of the month after the last
  std::vector<SeasonRow> rows;
  std::vector<Date> months;  ///< first days of the months from `from`
};
[[nodiscard]] SeasonChart season_chart(const season::Goal& goal, const season::Plan& plan);

}  // namespace strikebed::print
