#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/picture_parts.hpp"
#include "print/plan/plan_pictures.hpp"
#include "print/plan/season_chart.hpp"

namespace strikebed::print {
namespace {

constexpr double kRow = 33;
constexpr double kTop = 44;

std::string_view band_style(season::BandKind kind) {
  switch (kind) {
    case season::BandKind::chilling:
      return "sand";
    case season::BandKind::emergence:
      return "shoot";
    case season::BandKind::window:
    case season::BandKind::sessions:
      return "clay";
    case season::BandKind::rooting:
    case season::BandKind::weaning:
      break;
  }
  return "needle";
}

std::string from_to(Date first, Date last, std::string (*say)(Date)) {
  return first == last ? say(first) : fmt::format("{} to {}", say(first), say(last));
}

/// "sessions, 17 days": as many as are to be kept free.
std::string row_name(const SeasonRow& row) {
  const int days = row.usual_days().count;
  return days > 1 ? fmt::format("{}, {} days", row.name, days) : row.name;
}

/// "25 Feb", "24 Apr to 10 Jul"; of a window that is cut at the date to meet, "from 24 Apr".
std::string row_dates(const SeasonRow& row, std::string (*say)(Date)) {
  if (!row.runs.empty()) return from_to(row.usual_days().first, row.usual_days().last, say);
  if (row.is_cut()) return "from " + say(row.band->days.early);
  return from_to(row.band->days.early, row.band->days.late, say);
}

std::string description_of(const SeasonChart& chart, Date by) {
  std::string text;
  for (const auto& row : chart.rows) {
    text += fmt::format("{}: {}", row_name(row), row_dates(row, date_words));
    if (row.runs.empty() && row.has_middle()) {
      text += fmt::format(", mostly about {}", date_words(row.band->days.typical));
    }
    text += ". ";
  }
  return text + fmt::format("The date to meet is {}.", date_words(by));
}

/// A line at the start of each month, its name and the year wherever they fit.
void month_heads(Picture& picture, const SeasonChart& chart, const Area& area, const Scale& scale) {
  constexpr double kGap = 3;
  constexpr double kNameRoom = 38;
  const double month_width = (area.right - area.left) / static_cast<double>(chart.months.size());
  const auto every = static_cast<std::size_t>(std::ceil(kNameRoom / month_width));
  const auto fits = [&](double x, std::string_view word) { return x + kGap + words_width(word) <= area.right; };
  for (std::size_t i = 0; i < chart.months.size(); ++i) {
    const Date month = chart.months[i];
    const double x = scale.at(day_number(month));
    picture.line(x, area.top - 6, x, area.bottom, "grid");
    const std::string name(month_name(month_of(month)).substr(0, 3));
    if (i % every == 0 && fits(x, name)) picture.words(x + kGap, area.top - 10, name, Anchor::start, "quiet");
    const std::string year = fmt::format("{}", year_of(month));
    const double months_to_new_year = 13 - month_of(month);
    const bool first = i == 0 && (months_to_new_year >= static_cast<double>(chart.months.size()) ||
                                  months_to_new_year * month_width > words_width(year) + 2 * kGap);
    if ((first || month_of(month) == 1) && fits(x, year))
      picture.words(x + kGap, area.top - 28, year, Anchor::start, "strong");
  }
}

void draw_row(Picture& picture, const SeasonRow& row, double middle, const Scale& scale) {
  constexpr double kNarrowest = 3;
  const auto x_of = [&](Date date) { return scale.at(day_number(date)); };
  const auto block = [&](Date first, Date last, double half, std::string_view style) {
    const double start = x_of(first);
    picture.rectangle(start, middle - half, std::max(kNarrowest, x_of(last + Days{1}) - start), 2 * half, style);
  };
  for (const DayRun& run : row.runs) {
    block(run.first, run.last, 9, !row.band ? "ink" : run.usual ? band_style(row.band->kind) : "spare");
  }
  if (!row.runs.empty() || !row.band) return;
  block(row.band->days.early, row.band_end, 8, band_style(row.band->kind));
  if (row.has_middle()) picture.dot(x_of(row.band->days.typical), middle, 4, "open");
}

}  // namespace

std::string season_picture(const season::Goal& goal, const season::Plan& plan, double width, std::string_view id) {
  const SeasonChart chart = season_chart(goal, plan);
  if (chart.rows.empty()) return {};
  double left = 0;
  for (const auto& row : chart.rows) {
    left = std::max({left, words_width(row_name(row)), words_width(row_dates(row, short_day))});
  }
  const Area area{left + 8, width - 8, kTop, kTop + kRow * static_cast<double>(chart.rows.size())};
  const Scale scale{day_number(chart.from), day_number(chart.to), area.left, area.right};
  Picture picture(id, "The season as bands over the months", description_of(chart, goal.by), width, area.bottom + 26);
  month_heads(picture, chart, area, scale);
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  const double by = scale.at(day_number(goal.by));
  picture.line(by, area.top - 6, by, area.bottom + 6, "date-line");
  for (std::size_t i = 0; i < chart.rows.size(); ++i) {
    const SeasonRow& row = chart.rows[i];
    const double middle = area.top + kRow * (static_cast<double>(i) + 0.5);
    picture.words(0, middle - 3, row_name(row));
    picture.words(0, middle + 13, row_dates(row, short_day), Anchor::start, "quiet");
    draw_row(picture, row, middle, scale);
  }
  const std::string by_label = "by " + short_day(goal.by);
  picture.words(std::min(by, area.right - words_width(by_label) / 2), area.bottom + 20, by_label, Anchor::middle,
                "strong");
  return picture.done();
}

}  // namespace strikebed::print
