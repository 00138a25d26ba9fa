#include "print/plan/season_chart.hpp"

#include <algorithm>

#include "print/number_words.hpp"
#include "print/plan/calendar_words.hpp"
#include "print/plan/plan_parts.hpp"

namespace strikebed::print {

Date month_after(Date month) { return make_date(year_of(month) + month_of(month) / 12, month_of(month) % 12 + 1, 1); }

int SeasonRow::days() const {
  int days = 0;
  for (const DayRun& run : runs) days += static_cast<int>((run.last - run.first).count()) + 1;
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
      for (const auto& session : likely_sessions(plan)) add_day(row.runs, session.date, is_usual(session));
    }
    chart.rows.push_back(row);
  }
  if (!plan.sow_dates.empty()) {
    const auto place = std::find_if(chart.rows.begin(), chart.rows.end(), [&](const SeasonRow& row) {
      return row.band && row.band->days.early >= plan.sow_dates.front();
    });
    SeasonRow sowing;
    sowing.name = "sowing";
    for (const Date date : plan.sow_dates) add_day(sowing.runs, date, true);
    chart.rows.insert(place, sowing);
  }
  Date first = goal.by;
  Date last = goal.by;
  const auto include = [&](Date date) {
    if (!is_set(date)) return;
    first = std::min(first, date);
    last = std::max(last, date);
  };
  for (const auto& row : chart.rows) {
    if (row.band) {
      include(row.band->days.early);
      include(row.band_end);
    }
    for (const DayRun& run : row.runs) {
      include(run.first);
      include(run.last);
    }
  }
  chart.from = make_date(year_of(first), month_of(first), 1);
  chart.to = chart.from;
  while (chart.to <= last) {
    chart.months.push_back(chart.to);
    chart.to = month_after(chart.to);
  }
  return chart;
}

}  // namespace strikebed::print
