#pragma once
// The quantities of the chain that a grower may not know.

namespace strikebed::season {

enum class ChainQuantity {
  // shares
  germination,
  standing,
  usable,
  take,
  weaning,
  winter,
  grade,
  // of the timing, each in the unit that the species profile writes it in
  germination_time,
  germination_spread,
  cover_time,
  ripening_time,
  ripening_spread,
  window_end,
  edge_odds,
  rooting_time,
  rooting_spread,
  weaning_days,
};

}  // namespace strikebed::season
