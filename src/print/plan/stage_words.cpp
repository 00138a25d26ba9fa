#include "print/plan/stage_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/number_words.hpp"
#include "print/plan/lot_words.hpp"
#include "print/plan/unknown_words.hpp"
#include "print/rung_words.hpp"
#include "print/text_table.hpp"

namespace strikebed::print {
namespace {

struct StageRow {
  season::Stage stage;
  std::string_view word;
  std::string_view words;
  std::string_view lost;
};

constexpr StageRow kStages[] = {
    {season::Stage::sown, "sown", "sown", ""},
    {season::Stage::emerged, "emerged", "come up", "dead, or spoilt in the cold"},
    {season::Stage::standing, "standing", "alive when ready", "rotted, dried, eaten"},
    {season::Stage::offered, "offered", "ready at a session", "too late, too stiff, or cold"},
    {season::Stage::struck, "struck", "struck", "not fit to cut, or no room"},
    {season::Stage::rooted, "rooted", "rooted in time", "no roots, or too late"},
    {season::Stage::weaned, "weaned", "weaned", "wilted in open air"},
    {season::Stage::wintered, "wintered", "through the first winter", "lost in winter"},
    {season::Stage::good, "good", "with a good foot", "roots one-sided or poor"},
    {season::Stage::counted, "counted", "counted", "controls, and lifted to look"},
};

const StageRow& row_of(season::Stage stage) { return *std::ranges::find(kStages, stage, &StageRow::stage); }

}  // namespace

std::string_view stage_word(season::Stage stage) { return row_of(stage).word; }
std::string_view stage_words(season::Stage stage) { return row_of(stage).words; }
std::string_view loss_words(season::Stage stage) { return row_of(stage).lost; }

std::vector<StageLine> stage_lines(const season::Plan& plan) {
  std::vector<StageLine> lines;
  if (plan.stages.empty() || !(plan.stages.front().plants > 0)) return lines;
  for (const season::StageCount& stage : plan.stages) {
    const long plants = std::lround(stage.plants);
    lines.push_back({std::string(stage_words(stage.stage)), plants, stage.plants / plan.stages.front().plants,
                     lines.empty() ? 0 : lines.back().plants - plants, std::string(loss_words(stage.stage))});
  }
  return lines;
}

std::string stages_sentence(const season::Goal& goal, const season::Plan& plan) {
  std::string text =
      "Means over all seasons; a mean may lie a little beside the typical number, which half of the seasons exceed.";
  const std::string best = best_practice_sentence(goal, plan);
  return best.empty() ? text : text + " " + best;
}

std::string best_practice_sentence(const season::Goal& goal, const season::Plan& plan) {
  const season::Unknown* best = nullptr;
  for (const season::Unknown& unknown : plan.unknowns) {
    if (unknown.seeds_at_best && (!best || *unknown.seeds_at_best < *best->seeds_at_best)) best = &unknown;
  }
  if (!best || *best->seeds_at_best >= plan.seeds) return {};
  const std::string enough = *best->seeds_at_best == 0
                                 ? "nothing need be sown on top"
                                 : fmt::format("about {}{} would do", seeds_words(*best->seeds_at_best), on_top(goal));
  return fmt::format("Most seed would be saved by a better {}: if {} {}, as good as can be hoped, {}.",
                     unknown_name(goal, *best), percent(best->high), rung_words(*season::rung_of(best->quantity)),
                     enough);
}

}  // namespace strikebed::print
