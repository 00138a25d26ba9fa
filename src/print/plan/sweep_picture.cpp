#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

#include "print/number_words.hpp"
#include "print/plan/picture_parts.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/plan_pictures.hpp"
#include "print/plan/season_chart.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;
using season::SowingPoint;

constexpr double kMargin = 12;  ///< beside the first and the last bar

/// Other sowing dates as bars: how many seeds they need, or how sure each is where none can do it.
class SweepPicture {
 public:
  SweepPicture(const Goal& goal, const Plan& plan, std::vector<SowingPoint> sweep)
      : goal_(goal),
        plan_(plan),
        sweep_(std::move(sweep)),
        by_chance_(out_of_reach(plan)),
        ceiling_(sweep_ceiling(plan)),
        x_{day_number(sweep_.front().sow), day_number(sweep_.back().sow), area_.left + kMargin, area_.right - kMargin},
        y_{0, by_chance_ ? 1 : round_above(ceiling_), area_.bottom, area_.top} {}

  [[nodiscard]] std::string drawn() const {
    Picture picture("sweep", by_chance_ ? "How sure, by sowing date" : "Fewest seeds that are enough, by sowing date",
                    description(), kHalfSheet, area_.bottom + 44);
    upright_axis(picture, area_, y_, by_chance_ ? "how sure" : "seeds", by_chance_);
    for (std::size_t i = 0; i < sweep_.size(); ++i) draw_bar(picture, i);
    if (by_chance_) limit_line(picture, area_, y_.at(goal_.assurance), "asked: " + percent(goal_.assurance));
    picture.line(area_.left, area_.bottom, area_.right, area_.bottom, "axis");
    draw_marks(picture);
    draw_days(picture);
    level_axis_name(picture, area_, by_chance_ ? "sown on" : "sown on (× out of reach)");
    return picture.done();
  }

 private:
  [[nodiscard]] std::string description() const {
    std::string text =
        fmt::format("Sowing dates from {} to {}.", date_words(sweep_.front().sow), date_words(sweep_.back().sow));
    for (const SowingPoint& point : sweep_) {
      const std::string remark = sowing_remark(plan_, point);
      if (!remark.empty() && point.seeds)
        text += fmt::format(" {}, {}: {}.", date_words(point.sow), remark, seeds_words(*point.seeds));
    }
    return by_chance_ ? fmt::format("{} {}", text, sweep_sentence(goal_, plan_)) : text;
  }
  [[nodiscard]] double place_of(Date date) const { return x_.at(day_number(date)); }
  [[nodiscard]] double top_of(const SowingPoint& point) const {
    return y_.at(by_chance_ ? point.best_assurance : std::min(point.seeds.value_or(0), ceiling_));
  }
  /// Dates are not evenly apart: a bar is as wide as the nearer neighbour leaves it room.
  [[nodiscard]] double room(std::size_t i) const {
    double room = 2 * kMargin;
    if (i > 0) room = std::min(room, place_of(sweep_[i].sow) - place_of(sweep_[i - 1].sow));
    if (i + 1 < sweep_.size()) room = std::min(room, place_of(sweep_[i + 1].sow) - place_of(sweep_[i].sow));
    return room;
  }
  void draw_bar(Picture& picture, std::size_t i) const {
    constexpr double kFilled = 0.7;
    const SowingPoint& point = sweep_[i];
    const double middle = place_of(point.sow);
    if (!by_chance_ && !point.seeds) {
      picture.line(middle - 3, area_.bottom - 11, middle + 3, area_.bottom - 5, "cross");
      picture.line(middle - 3, area_.bottom - 5, middle + 3, area_.bottom - 11, "cross");
      return;
    }
    const double width = std::clamp(kFilled * room(i), 1.0, 2 * kMargin);
    const bool chosen = std::ranges::find(plan_.sow_dates, point.sow) != plan_.sow_dates.end();
    picture.rectangle(middle - width / 2, top_of(point), width, area_.bottom - top_of(point),
                      chosen ? "needle" : "sand");
    if (!by_chance_ && *point.seeds > ceiling_) picture.words(middle, top_of(point) - 3, "↑", Anchor::middle);
  }
  void mark(Picture& picture, Date date, const std::string& word, double height) const {
    const double at = place_of(date);
    const std::string label = word + " " + short_day(date);
    const auto bar = std::ranges::find(sweep_, date, &SowingPoint::sow);
    picture.line(at, height + 4, at, bar == sweep_.end() ? area_.bottom : top_of(*bar) - 2, "date-line");
    const double half = words_width(label) / 2;
    picture.words(std::clamp(at, area_.left + half, std::max(area_.left + half, area_.right - half)), height, label,
                  Anchor::middle, "strong");
  }
  void draw_marks(Picture& picture) const {
    constexpr double kUpperLine = 14;
    constexpr double kLowerLine = 32;
    if (!plan_.sow_dates.empty()) mark(picture, plan_.sow_dates.front(), "chosen", kLowerLine);
    if (plan_.last_sowing && (plan_.sow_dates.empty() || *plan_.last_sowing != plan_.sow_dates.front())) {
      mark(picture, *plan_.last_sowing, "last", kUpperLine);
    }
  }
  /// The starts of months; days of the sweep where there are fewer than two of these.
  [[nodiscard]] std::vector<Date> ticks() const {
    const Date first = sweep_.front().sow;
    const Date last = sweep_.back().sow;
    std::vector<Date> months;
    for (Date month = month_after(first - Days{1}); month <= last; month = month_after(month)) months.push_back(month);
    return months.size() > 1 || first == last ? months : std::vector<Date>{first, last};
  }
  void draw_days(Picture& picture) const {
    const std::vector<Date> days = ticks();
    constexpr double kLabelRoom = 50;
    const double apart = (area_.right - area_.left) / static_cast<double>(std::max<std::size_t>(1, days.size()));
    const auto every = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(kLabelRoom / apart)));
    for (std::size_t i = 0; i < days.size(); ++i) {
      const double at = place_of(days[i]);
      picture.line(at, area_.bottom, at, area_.bottom + 5, "axis");
      if (i % every != 0) continue;
      const double half = words_width(short_day(days[i])) / 2;
      picture.words(std::min(at, kHalfSheet - half), area_.bottom + 18, short_day(days[i]), Anchor::middle, "quiet");
    }
  }

  const Goal& goal_;
  const Plan& plan_;
  std::vector<SowingPoint> sweep_;
  bool by_chance_;
  int ceiling_;
  Area area_{48, kHalfSheet - 12, 64, 200};  // two lines for marks above
  Scale x_, y_;
};

}  // namespace

std::string sweep_picture(const Goal& goal, const Plan& plan) {
  auto sweep = telling_sweep(plan);
  return sweep.empty() ? "" : SweepPicture(goal, plan, std::move(sweep)).drawn();
}

}  // namespace strikebed::print
