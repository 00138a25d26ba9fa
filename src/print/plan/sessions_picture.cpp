#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/picture_parts.hpp"
#include "print/plan/plan_parts.hpp"
#include "print/plan/plan_pictures.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::SessionPlan;

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

/// Beside its table the picture is about as high as that.
double height_for(std::size_t sessions, double width) {
  constexpr double kTableRow = 21;
  constexpr double kBesides = 55;  ///< axes and legend, less the head of the table
  constexpr double kLowest = 206;
  constexpr double kHighest = 420;
  if (width > kHalfSheet) return kLowest;
  return std::clamp(kTableRow * static_cast<double>(sessions) - kBesides, kLowest, kHighest);
}

double most_struck(const std::vector<SessionPlan>& sessions, std::optional<int> at_most) {
  double most = 1;
  for (const auto& session : sessions) {
    if (std::isfinite(session.cuttings.high)) most = std::max(most, session.cuttings.high);
  }
  return at_most && *at_most < 2 * most ? std::max(most, static_cast<double>(*at_most)) : most;
}

std::string description_of(const std::vector<SessionPlan>& sessions, std::optional<int> at_most) {
  std::string text;
  for (const auto& session : sessions) {
    text += fmt::format("{}: {} ({} to {}). ", day_words(session.date), whole(session.cuttings.typical),
                        whole(session.cuttings.low), whole(session.cuttings.high));
  }
  return at_most ? text + fmt::format("At most {} in a session.", *at_most) : text;
}

/// The column of one session.
struct Slot {
  double middle;
  double wide;
  double bar;  ///< width
};

/// The parts are scaled to the height of the whole: medians of parts need not add up to the median of the sum.
void draw_bar(Picture& picture, const SessionPlan& session, const Slot& slot, const Scale& y, bool several) {
  double parts = 0;
  for (const double part : session.by_want) parts += part;
  const double all = y.start - y.at(session.cuttings.typical);
  double below = y.start;
  for (std::size_t w = 0; several && parts > 0 && w < session.by_want.size(); ++w) {
    const double height = all * session.by_want[w] / parts;
    picture.rectangle(slot.middle - slot.bar / 2, below - height, slot.bar, height, want_style(w));
    below -= height;
  }
  if (below == y.start) picture.rectangle(slot.middle - slot.bar / 2, y.start - all, slot.bar, all, want_style(0));
}

void draw_whisker(Picture& picture, const SessionPlan& session, const Slot& slot, const Scale& y) {
  constexpr double kBroadBar = 12;  // a whisker on it gets a light edge, which would hide a thinner one
  const double cap = std::min(0.7 * slot.wide, std::max(5.0, slot.bar / 3));
  for (const std::string_view style : {"halo", "whisker"}) {
    if (style == "halo" && slot.bar < kBroadBar) continue;
    picture.line(slot.middle, y.at(session.cuttings.low), slot.middle, y.at(session.cuttings.high), style);
    for (const double end : {session.cuttings.low, session.cuttings.high}) {
      picture.line(slot.middle - cap / 2, y.at(end), slot.middle + cap / 2, y.at(end), style);
    }
  }
}

}  // namespace

std::string sessions_picture(const Goal& goal, const season::Plan& plan, double width, std::string_view id) {
  const auto sessions = bench_days(plan).shown;
  if (sessions.empty()) return {};
  const auto cap = goal.sessions.cuttings_at_most;
  const bool several = goal.wants.size() > 1;
  const Area area{48, width - 12, 34, 34 + height_for(sessions.size(), width)};
  const Scale y{0, round_above(most_struck(sessions, cap)), area.bottom, area.top};
  std::vector<Spot> legend;
  if (several) legend = legend_spots(goal, area.left, area.right, area.bottom + 50);
  Picture picture(id, "Cuttings struck in each session", description_of(sessions, cap), width,
                  legend.empty() ? area.bottom + 46 : legend.back().y + 20);
  upright_axis(picture, area, y, "cuttings");
  const double wide = (area.right - area.left) / static_cast<double>(sessions.size());
  constexpr double kLabelRoom = 60;
  const auto every = std::max<std::size_t>(1, static_cast<std::size_t>(std::ceil(kLabelRoom / wide)));
  for (std::size_t i = 0; i < sessions.size(); ++i) {
    const Slot slot{area.left + wide * (static_cast<double>(i) + 0.5), wide, std::clamp(wide * 0.6, 2.0, 34.0)};
    draw_bar(picture, sessions[i], slot, y, several);
    draw_whisker(picture, sessions[i], slot, y);
    if (i % every == 0)
      picture.words(slot.middle, area.bottom + 18, short_day(sessions[i].date), Anchor::middle, "quiet");
  }
  picture.line(area.left, area.bottom, area.right, area.bottom, "axis");
  level_axis_name(picture, area, "session on");
  if (cap && *cap <= y.to) limit_line(picture, area, y.at(*cap), fmt::format("at most {}", *cap));
  for (std::size_t w = 0; w < legend.size(); ++w) {
    picture.rectangle(legend[w].x, legend[w].y, 12, 12, want_style(w));
    picture.words(legend[w].x + 18, legend[w].y + 11, want_name(goal, w), Anchor::start, "quiet");
  }
  return picture.done();
}

}  // namespace strikebed::print
