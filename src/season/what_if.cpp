#include "season/what_if.hpp"

#include <algorithm>
#include <utility>

#include "season/seed_search.hpp"

namespace strikebed::season {
namespace {

constexpr int kFewReplicates = 2;  // of the futures are enough to tell what helps
constexpr int kTries = 8;          // days of the range

}  // namespace

bool needs_fewer(const Asked& a, const Asked& b) {
  if (a.seeds.has_value() != b.seeds.has_value()) return a.seeds.has_value();
  return a.seeds ? *a.seeds < *b.seeds : a.best_chance > b.best_chance;
}

Futures WhatIf::futures_of(const Model& model) { return model.futures().first(kFewReplicates); }

WhatIf::WhatIf(const Model& model, Goal goal, std::shared_ptr<const ThermalSums> sums, Workers workers)
    : range_(sowing_range(goal, *sums)), workers_(std::move(workers)) {
  BenchHabit habit = model.setting().habit;
  if (!goal.sessions.cuttings_at_most) habit.patience = kMostPatience;
  Setting setting = model.setting();
  setting.goal = std::move(goal);
  setting.sums = std::move(sums);
  setting.habit = habit;
  setting.sessions = session_days(setting.goal, *setting.sums, habit);
  if (setting.sessions.count() == 0) return;
  if (!same_beliefs(setting.goal, model.goal())) setting.chain = std::make_shared<const Chain>(setting.goal);
  changed_.emplace(std::move(setting), futures_of(model), Workers{});
  sown_ = changed_->sowings({});
}

Asked WhatIf::on(int sow_day, int limit) const {
  if (!changed_) return {};
  const Model& model = changed_->model();
  std::vector<Sowing> sowings = sown_;
  sowings.push_back(changed_->sowing(sow_day));
  const SeedAnswer answer = seeds_for(model, sowings, model.goal().assurance, std::max(limit, 1), Precision::quick);
  return {answer.seeds, answer.best_chance, sow_day};
}

Asked WhatIf::best_of(std::span<const int> days, int limit) const {
  if (!changed_ || days.empty()) return {};
  std::vector<Asked> asked(days.size());
  // Another day is an answer only where it needs fewer than the first, which is often the best.
  asked.front() = on(days.front(), limit);
  const int at_most = asked.front().seeds.value_or(limit);
  workers_.run(static_cast<int>(days.size()) - 1, [&](int i) {
    const auto next = static_cast<std::size_t>(i) + 1;
    asked[next] = on(days[next], at_most);
  });
  return *std::ranges::min_element(asked, needs_fewer);
}

Asked WhatIf::about(std::optional<int> own_day, int limit) const {
  std::vector<int> days;
  if (own_day) days.push_back(*own_day);
  for (int i = 0; i < kTries && !range_.is_empty(); ++i) {
    const int day = range_.first + (range_.last - range_.first) * i / kTries;
    if (std::ranges::find(days, day) == days.end()) days.push_back(day);
  }
  return best_of(days, limit);
}

Asked WhatIf::closer(const Asked& about, int limit) const {
  Asked best = about;
  const int apart = (range_.last - range_.first) / kTries;
  for (int finer = apart / 2; finer > 0 && finer >= apart / 8; finer /= 2) {
    std::vector<int> days{best.sow_day - finer, best.sow_day + finer};
    std::erase_if(days, [&](int day) { return !range_.holds(day); });
    const Asked around = best_of(days, best.seeds.value_or(limit));
    if (needs_fewer(around, best)) best = around;
  }
  return best;
}

}  // namespace strikebed::season
