#include "season/cold_toll.hpp"

#include <algorithm>
#include <memory>

namespace strikebed::season {
namespace {

/// Nothing is lost in the cold; days that are short stay so.
Goal without_cold(Goal goal) {
  constexpr double kNeverKills_c = -1000;
  growth::Species& species = goal.species;
  species.cold_seed_loss.quantity = species.idle_loss.quantity = {0, 0, 0};
  for (ProfileValue* frost : {&species.seedling_frost_c, &species.cutting_frost_c}) {
    frost->quantity = {kNeverKills_c, kNeverKills_c, kNeverKills_c};
  }
  return goal;
}

LeftAtStages mean_left(const Model& model, std::span<const Sowing> like, int seeds, std::span<const double> shares) {
  std::vector<Sowing> sowings;
  for (const Sowing& sowing : like) {
    sowings.push_back(model.sowing(sowing.day()));
    sowings.back().sown = sowing.sown;
    sowings.back().part = sowing.part;
  }
  const std::vector<int> split = split_seeds(seeds, sowings);
  LeftAtStages mean;
  for (int f = 0; f < model.futures().count(); ++f) {
    const LeftAtStages left = model.left_at_stages(sowings, split, shares, f);
    for (const Stage stage : kStages) mean[stage] += model.futures().weight(f) * left[stage];
  }
  return mean;
}

}  // namespace

ColdToll cold_toll(const Model& model, std::span<const Sowing> sowings, int seeds, std::span<const double> shares) {
  const Futures futures = model.futures().first(1);
  const auto left_by = [&](Goal goal) {
    Setting setting = model.setting();
    setting.chain = std::make_shared<const Chain>(goal);
    setting.goal = std::move(goal);
    return mean_left(Model(std::move(setting), futures, Workers{}), sowings, seeds, shares);
  };
  const LeftAtStages now = left_by(model.goal());
  const LeftAtStages spared = left_by(without_cold(model.goal()));
  const auto lost = [&](Stage from, Stage to) {
    const double passing = now[from] > 0 ? now[to] / now[from] : 0;
    const double would_pass = spared[from] > 0 ? spared[to] / spared[from] : 0;
    return would_pass > 0 ? std::max(1 - passing / would_pass, 0.0) : 0;
  };
  return {lost(Stage::sown, Stage::emerged), lost(Stage::standing, Stage::offered), lost(Stage::struck, Stage::rooted)};
}

}  // namespace strikebed::season
