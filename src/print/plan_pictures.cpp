#include "print/plan_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "print/goal_words.hpp"
#include "print/number_words.hpp"
#include "print/plan_parts.hpp"
#include "print/season_chart.hpp"
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

std::string_view band_style(std::string_view name) {
  if (name == "chilling") return "sand";
  if (name == "emergence") return "shoot";
  if (name == "cutting window" || name == "sessions") return "clay";
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
    if (row.marks.empty() && row.band) {
      description += fmt::format("{}: {} to {}, mostly about {}. ", row.name, date_words(row.band->early),
                                 date_words(row.band->late), date_words(row.band->typical));
    } else if (!row.marks.empty()) {
      description += fmt::format(
          "{}: {}{}. ", row.name, date_words(row.marks.front()),
          row.marks.size() > 1 ? fmt::format(" to {}, {} days", date_words(row.marks.back()), row.marks.size()) : "");
    }
  }
  description += fmt::format("The date to meet is {}.", date_words(goal.by));
  Picture picture(id, "The season as bands over the months", description, width, area.bottom + 26);

  const double month_width = (area.right - area.left) / static_cast<double>(chart.months.size());
  const auto every = static_cast<std::size_t>(std::ceil(38 / month_width));
  for (std::size_t i = 0; i < chart.months.size(); ++i) {
    const Date month = chart.months[i];
    picture.line(x_of(month), area.top - 6, x_of(month), area.bottom, "grid");
    if (i % every == 0)
      picture.words(x_of(month) + 3, area.top - 10, month_name(month_of(month)).substr(0, 3), Anchor::start, "quiet");
    if (i == 0 || month_of(month) == 1) {
      picture.words(x_of(month) + 3, area.top - 28, fmt::format("{}", year_of(month)), Anchor::start, "strong");
    }
  }
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  const double by = x_of(goal.by);
  picture.line(by, area.top - 6, by, area.bottom + 6, "date-line");
  for (std::size_t i = 0; i < chart.rows.size(); ++i) {
    const SeasonRow& row = chart.rows[i];
    const double middle = area.top + kRow * (static_cast<double>(i) + 0.5);
    picture.words(area.left - 10, middle + 4, row.name, Anchor::end);
    double last = area.left;
    std::string label;
    if (row.marks.empty() && row.band) {
      const double start = x_of(row.band->early);
      const double end = x_of(row.band->late + Days{1});
      picture.rectangle(start, middle - 8, std::max(3.0, end - start), 16, band_style(row.name));
      picture.dot(x_of(row.band->typical), middle, 4, "open");
      last = end;
      label = row.band->early == row.band->late
                  ? short_day(row.band->early)
                  : fmt::format("{} to {}", short_day(row.band->early), short_day(row.band->late));
    }
    for (const Date mark : row.marks) {
      const double day = std::max(3.0, x_of(mark + Days{1}) - x_of(mark));
      picture.rectangle(x_of(mark), middle - 9, day, 18, row.band ? band_style(row.name) : "ink");
      last = x_of(mark) + day;
    }
    if (!row.marks.empty()) {
      label = row.marks.size() == 1 ? short_day(row.marks.front())
                                    : fmt::format("{} days, {} to {}", row.marks.size(), short_day(row.marks.front()),
                                                  short_day(row.marks.back()));
    }
    if (last + 8 + words_width(label) <= area.right) picture.words(last + 8, middle + 4, label, Anchor::start, "quiet");
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
    picture.words(x.at(tick), area.bottom + 18, whole(tick), Anchor::middle, "quiet");
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
  const Area area{48, kWidth - 12, 34, 240};
  const bool by_chance = out_of_reach(plan);
  const int ceiling = sweep_ceiling(plan);
  const Date first = sweep.front().sow;
  const Date last = sweep.back().sow;
  const double slot = (area.right - area.left) / static_cast<double>(sweep.size());
  const Scale x{day_number(first), day_number(last), area.left + slot / 2, area.right - slot / 2};
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
                  description, kWidth, 284);
  upright_axis(picture, area, y, by_chance ? "sure at best" : "seeds", by_chance);
  const auto bar_width = std::clamp(slot * 0.7, 2.0, 26.0);
  for (const auto& point : sweep) {
    const double middle = x.at(day_number(point.sow));
    const bool chosen = std::find(plan.sow_dates.begin(), plan.sow_dates.end(), point.sow) != plan.sow_dates.end();
    if (!by_chance && !point.seeds) {
      picture.line(middle - 3, area.bottom - 11, middle + 3, area.bottom - 5, "cross");
      picture.line(middle - 3, area.bottom - 5, middle + 3, area.bottom - 11, "cross");
      continue;
    }
    const double top = y.at(by_chance ? point.best_assurance : std::min(*point.seeds, ceiling));
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
    picture.line(at, height + 4, at, area.bottom, "date-line");
    const double half = words_width(label) / 2;
    picture.words(std::clamp(at, area.left + half, std::max(area.left + half, area.right - half)), height, label,
                  Anchor::middle, "strong");
  };
  if (!plan.sow_dates.empty()) mark(plan.sow_dates.front(), "chosen", area.top + 10);
  if (plan.last_sowing && (plan.sow_dates.empty() || *plan.last_sowing != plan.sow_dates.front())) {
    mark(*plan.last_sowing, "last", area.top - 8);
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

std::string sessions_picture(const Goal& goal, const Plan& plan) {
  const auto sessions = likely_sessions(plan);
  if (sessions.empty()) return {};
  const Area area{48, kWidth - 12, 34, 240};
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
  Picture picture("sessions", "Cuttings struck in each session", description, kWidth,
                  legend.empty() ? 268 : legend.back().y + 20);
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
      for (const double end : {session.cuttings.low, session.cuttings.high}) {
        picture.line(middle - bar_width / 6, y.at(end), middle + bar_width / 6, y.at(end), style);
      }
    };
    if (bar_width >= kBroadBar) whisker("halo");
    whisker("whisker");
    if (i % every == 0) picture.words(middle, area.bottom + 18, short_day(session.date), Anchor::middle, "quiet");
  }
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  if (cap && *cap <= y.to) {
    picture.line(area.left, y.at(*cap), area.right, y.at(*cap), "limit");
    picture.words(area.right, y.at(*cap) - 6, fmt::format("at most {}", *cap), Anchor::end);
  }
  for (std::size_t w = 0; w < legend.size(); ++w) {
    picture.rectangle(legend[w].x, legend[w].y, 12, 12, want_style(w));
    picture.words(legend[w].x + 18, legend[w].y + 11, want_name(goal, w), Anchor::start, "quiet");
  }
  return picture.done();
}

std::string unknowns_picture(const Plan& plan) {
  auto unknowns = unknowns_by_worth(plan);
  std::erase_if(unknowns, [&](const season::Unknown& unknown) { return !worth_knowing(plan, unknown); });
  if (unknowns.empty()) return {};
  constexpr double kRow = 44;
  std::string description;
  for (const auto& unknown : unknowns) description += fmt::format("{}: {}. ", unknown.name, worth_words(unknown));
  Picture picture("unknowns", "Seeds saved by knowing each quantity", description, kWidth,
                  kRow * static_cast<double>(unknowns.size()) + 8);
  const Scale x{0, std::max(1.0, static_cast<double>(unknowns.front().seeds_saved)), 0, kWidth - 100};
  for (std::size_t i = 0; i < unknowns.size(); ++i) {
    const double top = kRow * static_cast<double>(i);
    picture.words(0, top + 14, fmt::format("{}, believed {}", unknowns[i].name, belief_words(unknowns[i])));
    picture.rectangle(0, top + 21, std::max(2.0, x.at(std::max(0, unknowns[i].seeds_saved))), 12, "clay");
    picture.words(x.at(std::max(0, unknowns[i].seeds_saved)) + 8, top + 32, worth_words(unknowns[i]), Anchor::start,
                  "strong");
  }
  return picture.done();
}

std::string counted_picture(const Goal& goal, const Plan& plan) {
  const std::size_t wants = std::min(goal.wants.size(), plan.counted.size());
  if (wants == 0) return {};
  constexpr double kRow = 74;
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
    picture.line(x.at(tick), 0, x.at(tick), bottom, "grid");
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
