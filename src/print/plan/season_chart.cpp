#include "print/plan/season_chart.hpp"

#include <algorithm>
#include <utility>

#include "print/number_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/plan_parts.hpp"

namespace strikebed::print {

Date month_after(Date month) { return make_date(year_of(month) + month_of(month) / 12, month_of(month) % 12 + 1, 1); }

SeasonRow::UsualDays SeasonRow::usual_days() const {
  const bool some = std::ranges::any_of(runs, &DayRun::usual);
  UsualDays days;
  for (const DayRun& run : runs) {
    if (some && !run.usual) continue;
    if (days.count == 0) days.first = run.first;
    days.count += static_cast<int>((run.last - run.first).count()) + 1;
    days.last = run.last;
  }
  return days;
}

namespace {

void add_day(std::vector<DayRun>& runs, Date day, bool usual) {
  if (!runs.empty() && runs.back().usual == usual && runs.back().last + Days{1} == day) {
    runs.back().last = day;
  } else {
    runs.push_back({day, day, usual});
  }
}

/// The first and the last day of all rows and the date to meet.
std::pair<Date, Date> ends_of(const std::vector<SeasonRow>& rows, Date by) {
  Date first = by;
  Date last = by;
  const auto include = [&](Date date) {
    if (!is_set(date)) return;
    first = std::min(first, date);
    last = std::max(last, date);
  };
  for (const auto& row : rows) {
    if (row.band) {
      include(row.band->days.early);
      include(row.band_end);
    }
    for (const DayRun& run : row.runs) {
      include(run.first);
      include(run.last);
    }
  }
  return {first, last};
}

}  // namespace

SeasonChart season_chart(const season::Goal& goal, const season::Plan& plan) {
  SeasonChart chart;
  for (const season::Band& band : plan.bands) {
    SeasonRow row;
    row.name = band_name(band.kind);
    row.band = band;
    row.band_end = row.band->days.late;
    if (band.kind == season::BandKind::window && row.band->days.early <= goal.by)
      row.band_end = std::min(row.band_end, goal.by);
    if (band.kind == season::BandKind::sessions) {
      for (const auto& session : likely_sessions(plan)) add_day(row.runs, session.date, session.is_usual());
    }
    chart.rows.push_back(row);
  }
  std::vector<Date> sown;
  for (const season::SowingPlan& sowing : plan.sowings) sown.push_back(sowing.on);
  std::ranges::sort(sown);
  sown.erase(std::unique(sown.begin(), sown.end()), sown.end());
  if (!sown.empty()) {
    const auto place = std::find_if(chart.rows.begin(), chart.rows.end(), [&](const SeasonRow& row) {
      return row.band && row.band->days.early >= sown.front();
    });
    SeasonRow sowing;
    sowing.name = "sowing";
    for (const Date date : sown) add_day(sowing.runs, date, true);
    chart.rows.insert(place, sowing);
  }
  const auto [first, last] = ends_of(chart.rows, goal.by);
  chart.from = make_date(year_of(first), month_of(first), 1);
  chart.to = chart.from;
  while (chart.to <= last) {
    chart.months.push_back(chart.to);
    chart.to = month_after(chart.to);
  }
  return chart;
}

}  // namespace strikebed::print
