#pragma once
// The quantities of the chain that a grower may not know.

#include <optional>

#include "growth/rungs.hpp"

namespace strikebed::season {

using growth::Rung;

enum class ChainQuantity {
  // the rates, each of its rung
  germination = static_cast<int>(Rung::germination),
  standing = static_cast<int>(Rung::standing),
  usable = static_cast<int>(Rung::usable),
  take = static_cast<int>(Rung::take),
  weaning = static_cast<int>(Rung::weaning),
  winter = static_cast<int>(Rung::winter),
  grade = static_cast<int>(Rung::grade),
  // of the timing, each in the unit that the species profile writes it in
  germination_time = static_cast<int>(growth::kRungs.size()),
  germination_spread,
  cover_time,
  ripening_time,
  ripening_spread,
  window_end,
  edge_odds,
  rooting_time,
  rooting_spread,
  weaning_days,
  // of the cold
  cold_seed_loss,
  idle_loss,
  seedling_frost,
  cutting_frost,
  failure_half_life,
};

constexpr ChainQuantity quantity_of(Rung rung) { return static_cast<ChainQuantity>(rung); }
/// Nothing: of the timing.
constexpr std::optional<Rung> rung_of(ChainQuantity quantity) {
  if (quantity >= ChainQuantity::germination_time) return std::nullopt;
  return static_cast<Rung>(quantity);
}

/// Who comes into the window when, and lives until then, changes with it.
constexpr bool moves_seedlings(ChainQuantity quantity) {
  return (quantity >= ChainQuantity::germination_time && quantity <= ChainQuantity::window_end) ||
         (quantity >= ChainQuantity::cold_seed_loss && quantity <= ChainQuantity::seedling_frost);
}
/// Which cuttings root in time, or how long ripe seedlings can wait.
constexpr bool moves_waiting_or_rooting(ChainQuantity quantity) {
  return (quantity >= ChainQuantity::rooting_time && quantity <= ChainQuantity::weaning_days) ||
         (quantity >= ChainQuantity::idle_loss && quantity <= ChainQuantity::cutting_frost);
}

}  // namespace strikebed::season
