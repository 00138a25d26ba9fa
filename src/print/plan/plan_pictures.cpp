#include "print/plan/plan_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/season_chart.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/svg.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;

constexpr double kWidth = 400;   ///< of every picture but the season
constexpr double kLetter = 7.8;  ///< width of a letter, about; only used to keep words from overlapping

/// The plotting area inside the axes.
struct Area {
  double left = 0, right = 0, top = 0, bottom = 0;
};

double day_number(Date date) { return static_cast<double>(date.time_since_epoch().count()); }
double words_width(std::string_view text) { return kLetter * static_cast<double>(width_of(text)); }

/// Horizontal lines with a number at each; `name` stands above them.
void upright_axis(Picture& picture, const Area& area, const Scale& scale, std::string_view name,
                  bool in_percent = false) {
  constexpr int kMost = 6;
  for (const double tick : round_ticks(scale.from, scale.to, kMost)) {
    const double y = scale.at(tick);
    picture.line(area.left, y, area.right, y, tick == scale.from ? "axis" : "grid");
    picture.words(area.left - 6, y + 4, in_percent ? percent(tick) : rounded(tick), Anchor::end, "quiet");
  }
  picture.words(2, area.top - 12, name, Anchor::start, "quiet");
}

struct Spot {
  double x = 0;
  double y = 0;
};

/// Where the legend of each want stands, in as many lines as it takes.
std::vector<Spot> legend_spots(const Goal& goal, double left, double right, double top) {
  std::vector<Spot> spots;
  Spot next{left, top};
  for (std::size_t w = 0; w < goal.wants.size(); ++w) {
    const double wide = 18 + words_width(want_name(goal, w)) + 18;
    if (next.x > left && next.x + wide > right) next = {left, next.y + 20};
    spots.push_back(next);
    next.x += wide;
  }
  return spots;
}

std::string_view want_style(std::size_t want) {
  static constexpr std::array<std::string_view, 4> kStyles = {"needle", "sand", "clay", "shoot"};
  return kStyles[want % kStyles.size()];
}

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

/// Where a label of some width goes beside a mark at x: to its right if there is room, else to its left.
struct Beside {
  double x;
  Anchor anchor;
};
Beside beside(double x, double gap, double width, double right_edge) {
  return x + gap + width <= right_edge ? Beside{x + gap, Anchor::start} : Beside{x - gap, Anchor::end};
}

/// "25 Feb" or "17 days, 24 Apr to 10 Jul".
std::string days_label(const SeasonRow& row, std::string (*say)(Date)) {
  const Date first = row.runs.front().first;
  const int days = row.days();
  if (days == 1) return say(first);
  return fmt::format("{} days, {} to {}", days, say(first), say(row.runs.back().last));
}

/// A line at the start of each month, its name and the year wherever they fit.
void month_heads(Picture& picture, const SeasonChart& chart, const Area& area, const Scale& scale) {
  constexpr double kGap = 3;
  const double month_width = (area.right - area.left) / static_cast<double>(chart.months.size());
  const auto every = static_cast<std::size_t>(std::ceil(38 / month_width));
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

/// What a label must keep off.
struct BandPlace {
  double start, end;
  double dot;
  bool solid;  ///< one band, on which letters can stand
};
struct LabelSpot {
  double x;
  Anchor anchor;
  std::string_view style;
};

/// Letters that can be read on a band, or nothing where none can (contrast below 4.5:1).
std::string_view inside_style(season::BandKind kind) {
  const std::string_view band = band_style(kind);
  return band == "sand" ? "on-light" : band == "shoot" ? "" : "on-dark";
}

/// The sheet, and the line at the date to meet, that no words may cross.
struct Room {
  Area area;
  double by;
  [[nodiscard]] bool is_free(double from, double width) const {
    constexpr double kOff = 4;
    return from >= area.left && from + width <= area.right && (from > by + kOff || from + width < by - kOff);
  }
};

constexpr double kLabelGap = 8;

std::optional<LabelSpot> before(const BandPlace& band, double width, const Room& room) {
  if (!room.is_free(band.start - kLabelGap - width, width)) return std::nullopt;
  return LabelSpot{band.start - kLabelGap, Anchor::end, "quiet"};
}

/// In the band between two places.
std::optional<LabelSpot> inside(double from, double to, double width, const Room& room, std::string_view style) {
  const double x = (from + to - width) / 2;
  if (style.empty() || to - from < width + 2 * kLabelGap || !room.is_free(x, width)) return std::nullopt;
  return LabelSpot{x + width / 2, Anchor::middle, style};
}

/// Behind the band, else at its end, after the dot.
std::optional<LabelSpot> behind(const BandPlace& band, double width, const Room& room, std::string_view style) {
  if (room.is_free(band.end + kLabelGap, width)) return LabelSpot{band.end + kLabelGap, Anchor::start, "quiet"};
  return band.solid ? inside(band.dot, band.end, width, room, style) : std::nullopt;
}

/// Where a label of some width stands: behind its band, else in it beside the dot, else before it. Nothing where it
/// fits nowhere.
std::optional<LabelSpot> label_spot(const BandPlace& band, double width, const Room& room, std::string_view style) {
  if (const auto spot = behind(band, width, room, style)) return spot;
  if (band.solid) {
    if (const auto spot = inside(band.start, band.dot, width, room, style)) return spot;
  }
  return before(band, width, room);
}

}  // namespace

std::string season_picture(const Goal& goal, const Plan& plan, double width, std::string_view id) {
  const SeasonChart chart = season_chart(goal, plan);
  if (chart.rows.empty()) return {};
  constexpr double kRow = 30;
  constexpr double kTop = 44;
  double left = 0;
  for (const auto& row : chart.rows) left = std::max(left, words_width(row.name) + 14);
  const Area area{left, width - 8, kTop, kTop + kRow * static_cast<double>(chart.rows.size())};
  const Scale scale{day_number(chart.from), day_number(chart.to), area.left, area.right};
  const auto x_of = [&](Date date) { return scale.at(day_number(date)); };

  std::string description;
  for (const auto& row : chart.rows) {
    if (!row.runs.empty()) {
      description += fmt::format("{}: {}. ", row.name, days_label(row, date_words));
    } else if (row.band) {
      description += fmt::format("{}: {} to {}, mostly about {}. ", row.name, date_words(row.band->days.early),
                                 date_words(row.band->days.late), date_words(row.band->days.typical));
    }
  }
  description += fmt::format("The date to meet is {}.", date_words(goal.by));
  Picture picture(id, "The season as bands over the months", description, width, area.bottom + 26);

  month_heads(picture, chart, area, scale);
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  const double by = x_of(goal.by);
  picture.line(by, area.top - 6, by, area.bottom + 6, "date-line");
  for (std::size_t i = 0; i < chart.rows.size(); ++i) {
    const SeasonRow& row = chart.rows[i];
    const double middle = area.top + kRow * (static_cast<double>(i) + 0.5);
    picture.words(area.left - 10, middle + 4, row.name, Anchor::end);
    BandPlace place{area.left, area.left, area.left, false};
    std::string label;
    if (!row.runs.empty()) {
      for (const DayRun& run : row.runs) {
        const double days = std::max(3.0, x_of(run.last + Days{1}) - x_of(run.first));
        picture.rectangle(x_of(run.first), middle - 9, days, 18,
                          !row.band   ? "ink"
                          : run.usual ? band_style(row.band->kind)
                                      : "spare");
        place.end = x_of(run.first) + days;
      }
      place.start = place.dot = x_of(row.runs.front().first);
      label = days_label(row, short_day);
    } else if (row.band) {
      place.start = x_of(row.band->days.early);
      place.end = std::max(place.start + 3, x_of(row.band_end + Days{1}));
      place.dot = std::min(x_of(row.band->days.typical), place.end);
      place.solid = true;
      picture.rectangle(place.start, middle - 8, place.end - place.start, 16, band_style(row.band->kind));
      if (row.band->days.typical <= row.band_end) picture.dot(place.dot, middle, 4, "open");
      label = row.is_cut() ? "from " + short_day(row.band->days.early)
              : row.band->days.early == row.band->days.late
                  ? short_day(row.band->days.early)
                  : fmt::format("{} to {}", short_day(row.band->days.early), short_day(row.band->days.late));
    }
    const Room room{area, by};
    const std::string_view in_band = row.band ? inside_style(row.band->kind) : "";
    if (const auto spot = label_spot(place, words_width(label), room, in_band)) {
      picture.words(spot->x, middle + 4, label, spot->anchor, spot->style);
    } else if (place.solid && !row.is_cut()) {
      const std::string from = short_day(row.band->days.early);
      const std::string to = short_day(row.band->days.late);
      const auto first = before(place, words_width(from), room);
      const auto last = behind(place, words_width(to), room, in_band);
      if (first && last) {
        picture.words(first->x, middle + 4, from, first->anchor, first->style);
        picture.words(last->x, middle + 4, to, last->anchor, last->style);
      }
    }
  }
  const std::string by_label = "by " + short_day(goal.by);
  picture.words(std::min(by, area.right - words_width(by_label) / 2), area.bottom + 20, by_label, Anchor::middle,
                "strong");
  return picture.done();
}

std::string curve_picture(const Goal& goal, const Plan& plan) {
  if (plan.curve.empty()) return {};
  const Area area{48, kWidth - 12, 34, 240};
  int most = plan.seeds;
  int least = plan.curve.front().seeds;
  for (const auto& point : plan.curve) {
    most = std::max(most, point.seeds);
    least = std::min(least, point.seeds);
  }
  const Scale x{0, static_cast<double>(std::max(1, most)), area.left, area.right};
  const Scale y{0, 1, area.bottom, area.top};
  Picture picture(
      "curve", "How sure, against the number of seeds",
      fmt::format("From {} with {} seeds to {} with {}. Asked: {}. This plan: {} with {}.",
                  percent(plan.curve.front().assurance), plan.curve.front().seeds, percent(plan.curve.back().assurance),
                  seeds_words(plan.curve.back().seeds), percent(goal.assurance),
                  percent_beside(plan.assurance, goal.assurance), seeds_words(plan.seeds)),
      kWidth, 284);
  upright_axis(picture, area, y, "sure", true);
  for (const double tick : round_ticks(0, x.to, 6)) {
    const double half = words_width(whole(tick)) / 2;
    picture.words(std::min(x.at(tick), kWidth - half), area.bottom + 18, whole(tick), Anchor::middle, "quiet");
  }
  picture.words((area.left + area.right) / 2, area.bottom + 38, "seeds", Anchor::middle, "quiet");
  if (plan.seeds_low > 0 && plan.seeds_high > plan.seeds_low) {
    picture.rectangle(x.at(plan.seeds_low), area.top, x.at(plan.seeds_high) - x.at(plan.seeds_low),
                      area.bottom - area.top, "sand");
  }
  std::vector<std::pair<double, double>> points;
  for (const auto& point : plan.curve) {
    if (std::isfinite(point.assurance)) points.emplace_back(x.at(point.seeds), y.at(point.assurance));
  }
  picture.line(area.left, y.at(goal.assurance), area.right, y.at(goal.assurance), "limit");
  picture.words(area.left + 6, y.at(goal.assurance) - 6, "asked: " + percent(goal.assurance));
  picture.path(points, "curve");
  if (plan.seeds > 0 && std::isfinite(plan.assurance)) {
    const double here = x.at(plan.seeds);
    const std::string label = seeds_words(plan.seeds) + ": " + percent_beside(plan.assurance, goal.assurance);
    picture.dot(here, y.at(plan.assurance), 6, "open");
    const Beside spot = beside(here, 12, words_width(label), area.right);
    picture.words(spot.x, y.at(plan.assurance) + 24, label, spot.anchor, "strong");
  }
  return picture.done();
}

std::string sweep_picture(const Goal& goal, const Plan& plan) {
  const auto sweep = telling_sweep(plan);
  if (sweep.empty()) return {};
  const Area area{48, kWidth - 12, 64, 270};  // two lines for marks above
  const bool by_chance = out_of_reach(plan);
  const int ceiling = sweep_ceiling(plan);
  const Date first = sweep.front().sow;
  const Date last = sweep.back().sow;
  constexpr double kMargin = 12;
  const Scale x{day_number(first), day_number(last), area.left + kMargin, area.right - kMargin};
  const Scale y{0, by_chance ? 1 : round_above(ceiling), area.bottom, area.top};
  std::string description = fmt::format("Sowing dates from {} to {}.", date_words(first), date_words(last));
  for (const auto& point : sweep) {
    const std::string remark = sowing_remark(plan, point);
    if (!remark.empty() && point.seeds)
      description += fmt::format(" {}, {}: {}.", date_words(point.sow), remark, seeds_words(*point.seeds));
  }
  if (by_chance) description += fmt::format(" {}", sweep_sentence(goal, plan));
  Picture picture("sweep",
                  by_chance ? "How sure at best, by sowing date" : "Fewest seeds that are enough, by sowing date",
                  description, kWidth, 314);
  upright_axis(picture, area, y, by_chance ? "sure" : "seeds", by_chance);
  // Dates are not evenly apart: a bar is as wide as the nearer neighbour leaves it room.
  const auto room = [&](std::size_t i) {
    double days = 2 * kMargin / std::max(1.0, x.at(1) - x.at(0));
    if (i > 0) days = std::min(days, day_number(sweep[i].sow) - day_number(sweep[i - 1].sow));
    if (i + 1 < sweep.size()) days = std::min(days, day_number(sweep[i + 1].sow) - day_number(sweep[i].sow));
    return days * (x.at(1) - x.at(0));
  };
  const auto top_of = [&](const season::SowingPoint& point) {
    return y.at(by_chance ? point.best_assurance : std::min(point.seeds.value_or(0), ceiling));
  };
  for (std::size_t i = 0; i < sweep.size(); ++i) {
    const auto& point = sweep[i];
    const double bar_width = std::clamp(0.7 * room(i), 1.0, 2 * kMargin);
    const double middle = x.at(day_number(point.sow));
    const bool chosen = std::find(plan.sow_dates.begin(), plan.sow_dates.end(), point.sow) != plan.sow_dates.end();
    if (!by_chance && !point.seeds) {
      picture.line(middle - 3, area.bottom - 11, middle + 3, area.bottom - 5, "cross");
      picture.line(middle - 3, area.bottom - 5, middle + 3, area.bottom - 11, "cross");
      continue;
    }
    const double top = top_of(point);
    picture.rectangle(middle - bar_width / 2, top, bar_width, area.bottom - top, chosen ? "needle" : "sand");
    if (!by_chance && *point.seeds > ceiling) picture.words(middle, top - 3, "↑", Anchor::middle);
  }
  if (by_chance) {
    picture.line(area.left, y.at(goal.assurance), area.right, y.at(goal.assurance), "limit");
    picture.words(area.right, y.at(goal.assurance) - 6, "asked: " + percent(goal.assurance), Anchor::end);
  }
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  const auto mark = [&](Date date, const std::string& word, double height) {
    const double at = x.at(day_number(date));
    const std::string label = word + " " + short_day(date);
    const auto bar = std::ranges::find(sweep, date, &season::SowingPoint::sow);
    picture.line(at, height + 4, at, bar == sweep.end() ? area.bottom : top_of(*bar) - 2, "date-line");
    const double half = words_width(label) / 2;
    picture.words(std::clamp(at, area.left + half, std::max(area.left + half, area.right - half)), height, label,
                  Anchor::middle, "strong");
  };
  constexpr double kUpperLine = 14;
  constexpr double kLowerLine = 32;
  if (!plan.sow_dates.empty()) mark(plan.sow_dates.front(), "chosen", kLowerLine);
  if (plan.last_sowing && (plan.sow_dates.empty() || *plan.last_sowing != plan.sow_dates.front())) {
    mark(*plan.last_sowing, "last", kUpperLine);
  }
  for (Date month = make_date(year_of(first), month_of(first), 1); month <= last; month = month_after(month)) {
    if (month < first) continue;
    picture.line(x.at(day_number(month)), area.bottom, x.at(day_number(month)), area.bottom + 5, "axis");
    picture.words(x.at(day_number(month)), area.bottom + 18, short_day(month), Anchor::middle, "quiet");
  }
  picture.words((area.left + area.right) / 2, area.bottom + 38,
                by_chance ? "sown on" : "sown on (× no number of seeds is enough)", Anchor::middle, "quiet");
  return picture.done();
}

std::string sessions_picture(const Goal& goal, const Plan& plan, double width, std::string_view id) {
  const auto sessions = bench_days(plan).shown;
  if (sessions.empty()) return {};
  // Beside its table the picture is about as high as that.
  constexpr double kTableRow = 21;
  constexpr double kBesides = 55;  ///< axes and legend, less the head of the table
  const double tall =
      width > kWidth ? 206 : std::clamp(kTableRow * static_cast<double>(sessions.size()) - kBesides, 206.0, 420.0);
  const Area area{48, width - 12, 34, 34 + tall};
  const auto cap = goal.sessions.cuttings_at_most;
  double most = 1;
  for (const auto& session : sessions) {
    if (std::isfinite(session.cuttings.high)) most = std::max(most, session.cuttings.high);
  }
  if (cap && *cap < 2 * most) most = std::max(most, static_cast<double>(*cap));
  const Scale y{0, round_above(most), area.bottom, area.top};
  const double slot = (area.right - area.left) / static_cast<double>(sessions.size());
  std::string description;
  for (const auto& session : sessions) {
    description += fmt::format("{}: {} ({} to {}). ", day_words(session.date), whole(session.cuttings.typical),
                               whole(session.cuttings.low), whole(session.cuttings.high));
  }
  if (cap) description += fmt::format("At most {} in a session.", *cap);
  const bool several = goal.wants.size() > 1;
  std::vector<Spot> legend;
  if (several) legend = legend_spots(goal, area.left, area.right, area.bottom + 32);
  Picture picture(id, "Cuttings struck in each session", description, width,
                  legend.empty() ? area.bottom + 28 : legend.back().y + 20);
  upright_axis(picture, area, y, "cuttings");
  const double bar_width = std::clamp(slot * 0.6, 2.0, 34.0);
  constexpr double kLabelRoom = 60;
  constexpr double kBroadBar = 12;  ///< a whisker on it gets a light edge, which would hide a thinner one
  const auto every = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(kLabelRoom / slot)));
  for (std::size_t i = 0; i < sessions.size(); ++i) {
    const auto& session = sessions[i];
    const double middle = area.left + slot * (static_cast<double>(i) + 0.5);
    // The parts are scaled to the height of the whole: medians of parts need not add up to the median of the sum.
    double parts = 0;
    for (const double part : session.by_want) parts += part;
    double below = area.bottom;
    if (several && parts > 0) {
      for (std::size_t w = 0; w < session.by_want.size(); ++w) {
        const double height = (area.bottom - y.at(session.cuttings.typical)) * session.by_want[w] / parts;
        picture.rectangle(middle - bar_width / 2, below - height, bar_width, height, want_style(w));
        below -= height;
      }
    } else {
      const double top = y.at(session.cuttings.typical);
      picture.rectangle(middle - bar_width / 2, top, bar_width, area.bottom - top, want_style(0));
    }
    const auto whisker = [&](std::string_view style) {
      picture.line(middle, y.at(session.cuttings.low), middle, y.at(session.cuttings.high), style);
      const double cap_width = std::min(0.7 * slot, std::max(5.0, bar_width / 3));
      for (const double end : {session.cuttings.low, session.cuttings.high}) {
        picture.line(middle - cap_width / 2, y.at(end), middle + cap_width / 2, y.at(end), style);
      }
    };
    if (bar_width >= kBroadBar) whisker("halo");
    whisker("whisker");
    if (i % every == 0) picture.words(middle, area.bottom + 18, short_day(session.date), Anchor::middle, "quiet");
  }
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  if (cap && *cap <= y.to) {
    picture.line(area.left, y.at(*cap), area.right, y.at(*cap), "limit");
    constexpr double kLetterHeight = 16;  // off the topmost line of the grid
    const double place = y.at(*cap) - kLetterHeight < area.top ? area.top - 5 : y.at(*cap) - 6;
    picture.words(area.right, place, fmt::format("at most {}", *cap), Anchor::end);
  }
  for (std::size_t w = 0; w < legend.size(); ++w) {
    picture.rectangle(legend[w].x, legend[w].y, 12, 12, want_style(w));
    picture.words(legend[w].x + 18, legend[w].y + 11, want_name(goal, w), Anchor::start, "quiet");
  }
  return picture.done();
}

std::string unknowns_picture(const Goal& goal, const Plan& plan) {
  auto unknowns = unknowns_by_worth(plan);
  std::erase_if(unknowns, [&](const season::Unknown& unknown) { return !worth_knowing(plan, unknown); });
  if (unknowns.empty()) return {};
  constexpr double kRow = 44;
  std::string description;
  for (const auto& unknown : unknowns)
    description += fmt::format("{}: {}. ", unknown_name(goal, unknown), worth_words(unknown));
  Picture picture("unknowns", "Seeds saved by knowing each quantity", description, kWidth,
                  kRow * static_cast<double>(unknowns.size()) + 8);
  const Scale x{0, std::max(1.0, static_cast<double>(unknowns.front().seeds_saved)), 0, kWidth - 100};
  for (std::size_t i = 0; i < unknowns.size(); ++i) {
    const double top = kRow * static_cast<double>(i);
    picture.words(0, top + 14,
                  fmt::format("{}, believed {}", unknown_name(goal, unknowns[i]), belief_words(unknowns[i])));
    picture.rectangle(0, top + 21, std::max(2.0, x.at(std::max(0, unknowns[i].seeds_saved))), 12, "clay");
    picture.words(x.at(std::max(0, unknowns[i].seeds_saved)) + 8, top + 32, worth_words(unknowns[i]), Anchor::start,
                  "strong");
  }
  return picture.done();
}

std::string stages_picture(const Plan& plan) {
  if (plan.stages.empty() || !(plan.stages.front().plants > 0)) return {};
  constexpr double kRow = 44;
  std::string description;
  for (const auto& stage : plan.stages) {
    description += fmt::format("{}: {}. ", stage_words(stage.stage), whole(stage.plants));
  }
  Picture picture("stages", "Plants left at each stage", description, kWidth,
                  kRow * static_cast<double>(plan.stages.size()) + 8);
  const Scale x{0, plan.stages.front().plants, 0, kWidth - 60};
  for (std::size_t i = 0; i < plan.stages.size(); ++i) {
    const double top = kRow * static_cast<double>(i);
    const double lost = i > 0 ? plan.stages[i - 1].plants - plan.stages[i].plants : 0;
    picture.words(0, top + 14,
                  lost >= 0.5 ? fmt::format("{}; {} {}", stage_words(plan.stages[i].stage), whole(lost),
                                            loss_words(plan.stages[i].stage))
                              : std::string(stage_words(plan.stages[i].stage)));
    picture.rectangle(0, top + 21, std::max(2.0, x.at(plan.stages[i].plants)), 12, "needle");
    picture.words(x.at(plan.stages[i].plants) + 8, top + 32, whole(plan.stages[i].plants), Anchor::start, "strong");
  }
  return picture.done();
}

std::string counted_picture(const Goal& goal, const Plan& plan) {
  const std::size_t wants = std::min(goal.wants.size(), plan.counted.size());
  if (wants == 0) return {};
  constexpr double kRow = 74;
  constexpr double kWords = 26;  ///< of a row, above its lines
  std::string description;
  double most = 1;
  for (std::size_t i = 0; i < wants; ++i) {
    const auto& counted = plan.counted[i];
    description += fmt::format("{}: {} asked, {} expected ({} to {}). ", want_name(goal, i), goal.wants[i].count,
                               whole(counted.typical), whole(counted.low), whole(counted.high));
    for (const double number : {counted.high, static_cast<double>(goal.wants[i].count)}) {
      if (std::isfinite(number)) most = std::max(most, number);
    }
  }
  const double bottom = kRow * static_cast<double>(wants);
  Picture picture("counted", "Plants counted at the date, against the number asked for", description, kWidth,
                  bottom + 30);
  const Scale x{0, round_above(most), 8, kWidth - 20};
  for (const double tick : round_ticks(0, x.to, 6)) {
    for (std::size_t i = 0; i < wants; ++i) {
      const double top = kRow * static_cast<double>(i);
      picture.line(x.at(tick), top + kWords, x.at(tick), top + kRow, "grid");
    }
    picture.words(x.at(tick), bottom + 18, whole(tick), Anchor::middle, "quiet");
  }
  picture.line(x.start, bottom, x.end, bottom, "axis");
  for (std::size_t i = 0; i < wants; ++i) {
    const auto& counted = plan.counted[i];
    const double top = kRow * static_cast<double>(i);
    const double middle = top + 42;
    picture.words(0, top + 18,
                  fmt::format("{}: {} ({} to {}), asked {}", want_name(goal, i), whole(counted.typical),
                              whole(counted.low), whole(counted.high), goal.wants[i].count));
    picture.line(x.at(counted.low), middle, x.at(counted.high), middle, "spread");
    picture.dot(x.at(counted.typical), middle, 6, "open");
    picture.line(x.at(goal.wants[i].count), middle - 14, x.at(goal.wants[i].count), middle + 14, "asked");
  }
  return picture.done();
}

}  // namespace strikebed::print
