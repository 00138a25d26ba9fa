#pragma once
// What is known of a goal before anything is sown, and what of it a change of the goal leaves as it was.
#include <memory>

#include "season/chain.hpp"
#include "season/offers.hpp"
#include "season/session_days.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// So many of one of the goal's own sowings, of which the same is known.
struct OwnSeedlings {
  std::size_t sowing;                 ///< of goal.sown
  int number;                         ///< seeds, or seedlings where they are known to be up
  std::optional<SeedlingsSeen> seen;  ///< nothing: only that they were sown
};

/// Plants of the goal that are in pots already: mean and variance of how many will count, future by future.
struct InPots {
  std::vector<std::vector<double>> mean, variance;  ///< [want][future]
};

/// Shared between models that differ in the rest.
struct Setting {
  Goal goal;
  std::shared_ptr<const Chain> chain;
  std::shared_ptr<const ThermalSums> sums;
  SessionDays sessions;
  BenchHabit habit;
  std::vector<OwnSeedlings> own;               ///< in the order of the sowings
  std::shared_ptr<const InPots> in_pots = {};  ///< of the futures that are looked at; null: none
};

/// A goal with the warmth of its seasons.
[[nodiscard]] Setting setting_of(Goal goal, std::shared_ptr<const ThermalSums> sums, const BenchHabit& habit = {});

/// The same is believed of every rate, of the same methods.
[[nodiscard]] bool same_beliefs(const Goal& a, const Goal& b);

/// The warmth of two goals is the same in the same weather.
[[nodiscard]] bool same_warmth(const Goal& a, const Goal& b);

/// How much of one setting another leaves as it is.
enum class SettingChange {
  wanted,  ///< counts, sureness, room, dates of sowing: what becomes of a seed sown on a day is the same
  rates,   ///< who comes into the window when is the same
  timing   ///< nothing is
};
[[nodiscard]] SettingChange change_between(const Setting& before, const Setting& after);

/// What becomes of plants that are in pots is the same.
[[nodiscard]] bool leaves_what_is_in_pots(const Setting& before, const Setting& after);

}  // namespace strikebed::season
