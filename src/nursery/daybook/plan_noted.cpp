#include "nursery/daybook/plan_noted.hpp"

#include <cmath>
#include <utility>

namespace strikebed::nursery {
namespace {

std::optional<daybook::EntryId> goal_of(const daybook::GoalSet& goal, daybook::Fold& fold) {
  for (const auto& [id, record] : fold.state().goals) {
    const daybook::Entry* entry = fold.find(id);
    if (entry && std::get<daybook::GoalSet>(entry->body) == goal) return id;
  }
  return std::nullopt;
}

/// The last one of a goal.
const daybook::PlanChosen* last_plan(const daybook::EntryId& goal, daybook::Fold& fold) {
  const auto record = fold.state().goals.find(goal);
  if (record == fold.state().goals.end() || record->second.plans.empty()) return nullptr;
  const daybook::Entry* entry = fold.find(record->second.plans.back());
  return entry ? std::get_if<daybook::PlanChosen>(&entry->body) : nullptr;
}

daybook::PlanChosen chosen(const season::Plan& plan, const daybook::EntryId& goal) {
  daybook::PlanChosen chosen{
      .goal = goal, .seeds = plan.seeds, .assurance = plan.assurance, .sowings = {}, .sessions = {}};
  for (const season::SowingPlan& sowing : plan.sowings) {
    if (!sowing.own) chosen.sowings.push_back({sowing.on, sowing.seeds});
  }
  for (const season::SessionPlan& session : plan.sessions) {
    const auto cuttings = static_cast<int>(std::lround(session.cuttings.typical));
    if (cuttings > 0) chosen.sessions.push_back({session.date, cuttings});
  }
  return chosen;
}

}  // namespace

std::vector<daybook::Entry> entries_of_plan(const Text& goal, const PlanAnswer& answer, const NoteRequest& by,
                                            const NoteMeans& means, const daybook::Moment& happened,
                                            daybook::Fold& fold) {
  std::vector<daybook::Entry> entries;
  const daybook::GoalSet set{.name = id_of_file(goal.file), .goal_toml = goal.text};
  std::optional<daybook::EntryId> id = goal_of(set, fold);
  if (!id) {
    entries.push_back(new_entry(by, means, happened, set));
    id = entries.back().id;
  }
  const daybook::PlanChosen plan = chosen(answer.plan, *id);
  const daybook::PlanChosen* const last = last_plan(*id, fold);
  if (!last || *last != plan) entries.push_back(new_entry(by, means, happened, plan));
  return entries;
}

}  // namespace strikebed::nursery
