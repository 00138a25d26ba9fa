#include "print/plan/plan_pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/goal_words.hpp"
#include "print/plan/picture_parts.hpp"
#include "print/plan/stage_words.hpp"
#include "print/plan/unknown_words.hpp"

namespace strikebed::print {
namespace {

using season::Goal;
using season::Plan;

/// Where a label of some width goes beside a mark at x: to its right if there is room, else to its left.
struct Beside {
  double x;
  Anchor anchor;
};
Beside beside(double x, double gap, double width, double right_edge) {
  return x + gap + width <= right_edge ? Beside{x + gap, Anchor::start} : Beside{x - gap, Anchor::end};
}

/// The plan's own point on the curve.
void mark_plan(Picture& picture, const Goal& goal, const Plan& plan, const Area& area, double x, double y) {
  const std::string label = seeds_words(plan.seeds) + ": " + percent_beside(plan.assurance, goal.assurance);
  picture.dot(x, y, 6, "open");
  const Beside spot = beside(x, 12, words_width(label), area.right);
  picture.words(spot.x, y + 24, label, spot.anchor, "strong");
}

}  // namespace

std::string curve_picture(const Goal& goal, const Plan& plan) {
  if (plan.curve.empty()) return {};
  const Area area{48, kHalfSheet - 12, 34, 174};
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
      kHalfSheet, area.bottom + 44);
  upright_axis(picture, area, y, "how sure", true);
  for (const double tick : round_ticks(0, x.to, 6)) {
    const double half = words_width(whole(tick)) / 2;
    picture.words(std::min(x.at(tick), kHalfSheet - half), area.bottom + 18, whole(tick), Anchor::middle, "quiet");
  }
  level_axis_name(picture, area, "seeds");
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
    mark_plan(picture, goal, plan, area, x.at(plan.seeds), y.at(plan.assurance));
  }
  return picture.done();
}

std::string unknowns_picture(const Goal& goal, const Plan& plan) {
  auto unknowns = unknowns_by_worth(plan);
  std::erase_if(unknowns, [&](const season::Unknown& unknown) { return !worth_knowing(plan, unknown); });
  if (unknowns.empty()) return {};
  constexpr double kRow = 50;
  std::string description;
  for (const auto& unknown : unknowns)
    description += fmt::format("{}: {}. ", unknown_name(goal, unknown), worth_words(unknown));
  Picture picture("unknowns", "Seeds saved by knowing each quantity", description, kHalfSheet,
                  kRow * static_cast<double>(unknowns.size()) + 8);
  const Scale x{0, std::max(1.0, static_cast<double>(unknowns.front().seeds_saved)), 0, kHalfSheet - 100};
  for (std::size_t i = 0; i < unknowns.size(); ++i) {
    const double top = kRow * static_cast<double>(i);
    picture.words(0, top + 14, unknown_name(goal, unknowns[i]), Anchor::start, "strong");
    picture.words(0, top + 31, belief_words(unknowns[i]), Anchor::start, "quiet");
    picture.rectangle(0, top + 37, std::max(2.0, x.at(std::max(0, unknowns[i].seeds_saved))), 9, "clay");
    picture.words(x.at(std::max(0, unknowns[i].seeds_saved)) + 8, top + 46, worth_words(unknowns[i]), Anchor::start,
                  "strong");
  }
  return picture.done();
}

std::string stages_picture(const Plan& plan) {
  const std::vector<StageLine> lines = stage_lines(plan);
  if (lines.empty()) return {};
  constexpr double kRow = 32;
  constexpr double kHeads = 20;
  std::string description;
  for (const StageLine& line : lines) description += fmt::format("{}: {}. ", line.words, line.plants);
  Picture picture("stages", "Plants left at each stage", description, kHalfSheet,
                  kHeads + kRow * static_cast<double>(lines.size()) + 4);
  const Scale x{0, 1, 0, kHalfSheet};
  picture.words(0, 14, "plants left", Anchor::start, "quiet");
  picture.words(kHalfSheet, 14, "lost before", Anchor::end, "quiet");
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const StageLine& line = lines[i];
    const double top = kHeads + kRow * static_cast<double>(i);
    picture.words(0, top + 16, fmt::format("{}: {}", line.words, line.plants));
    if (line.lost > 0) {
      picture.words(kHalfSheet, top + 16, fmt::format("{} {}", line.lost, line.causes), Anchor::end, "quiet");
    }
    picture.rectangle(0, top + 21, std::max(2.0, x.at(line.share)), 8, "needle");
  }
  return picture.done();
}

std::string counted_picture(const Goal& goal, const Plan& plan) {
  const std::size_t wants = std::min(goal.wants.size(), plan.counted.size());
  if (wants == 0) return {};
  constexpr double kRow = 62;
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
  Picture picture("counted", "Plants counted at the date, against the number asked for", description, kHalfSheet,
                  bottom + 44);
  const Scale x{0, round_above(most), 8, kHalfSheet - 20};
  for (const double tick : round_ticks(0, x.to, 6)) {
    for (std::size_t i = 0; i < wants; ++i) {
      const double top = kRow * static_cast<double>(i);
      picture.line(x.at(tick), top + kWords, x.at(tick), top + kRow, "grid");
    }
    picture.words(x.at(tick), bottom + 18, whole(tick), Anchor::middle, "quiet");
  }
  picture.line(x.start, bottom, x.end, bottom, "axis");
  level_axis_name(picture, {x.start, x.end, 0, bottom}, "plants " + std::string(name_of(goal.count_at)));
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
