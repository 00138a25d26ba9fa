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

}  // namespace

ColdToll cold_toll(const Model& model, std::span<const Sowing> sowings, int seeds, std::span<const double> shares) {
  const Futures futures = model.futures().first(1);
  const std::vector<int> split = split_seeds(seeds, sowings);
  const LeftAtStages now = model.mean_left_at_stages(sowings, split, shares, futures.count());
  Setting hardy = model.setting();
  hardy.goal = without_cold(std::move(hardy.goal));
  hardy.chain = std::make_shared<const Chain>(hardy.goal);
  const Model spared_by_cold(std::move(hardy), futures, Workers{});
  const LeftAtStages spared =
      spared_by_cold.mean_left_at_stages(spared_by_cold.sown_like(sowings), split, shares, futures.count());
  const auto lost = [&](Stage from, Stage to) {
    const double passing = now[from] > 0 ? now[to] / now[from] : 0;
    const double would_pass = spared[from] > 0 ? spared[to] / spared[from] : 0;
    return would_pass > 0 ? std::max(1 - passing / would_pass, 0.0) : 0;
  };
  return {lost(Stage::sown, Stage::emerged), lost(Stage::standing, Stage::offered), lost(Stage::struck, Stage::rooted)};
}

}  // namespace strikebed::season
