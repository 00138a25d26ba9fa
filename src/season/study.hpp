#pragma once
// One goal, asked many things. A study owns the goal, its chain, the warmth of its seasons, its futures and its
// sowings, and stays warm: asked again after the goal has changed, it works out only what hangs on the change.
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

#include "base/steps.hpp"
#include "base/workers.hpp"
#include "climate/seasons.hpp"
#include "season/learnt.hpp"
#include "season/outlook.hpp"
#include "season/seed_search.hpp"
#include "season/sowing_sweep.hpp"

namespace strikebed::season {

/// Futures of a study: 12 replicates of 512. Weather that is generated should have a season for each: then no two
/// replicates share one, and their scatter holds what the weather adds to the error.
inline constexpr int kReplicates = 12;
inline constexpr int kLog2Points = 9;
inline constexpr int kFutures = kReplicates << kLog2Points;

struct StudyOptions {
  std::uint64_t seed = 1;
  Workers workers = {};                       ///< lent; the answers do not depend on how many
  std::shared_ptr<const Observed> seen = {};  ///< of the goal so far; null: nothing
};

/// The stretch of weather a goal needs: from today, or the first that was sown or struck, to its last date, with a
/// margin for "what if it were later".
struct WeatherSpan {
  Date first;
  int days;
};
[[nodiscard]] WeatherSpan weather_span(const Goal& goal, const Observed* seen = nullptr);

/// In which futures: few of them, for looking about, worked by one hand; or all, worked by all hands.
enum class Look { rough, whole };

class Study {
 public:
  static constexpr int kComb = 40;

  /// The goal is never "wrong" here; nursery has checked it.
  ///   weather  of weather_span(goal, what was seen)
  Study(Goal goal, climate::WeatherSeasons weather, const StudyOptions& options);

  /// Whether the weather that is there is enough for another goal.
  [[nodiscard]] bool weather_reaches(const Goal& goal) const;
  /// Asks about another goal from now on, for which the weather must reach.
  void change(Goal goal);
  void change(Goal goal, climate::WeatherSeasons weather);
  /// Asks in other futures from now on: draws that were conditioned on what was seen, with their weights.
  void change(const Futures& futures);

  [[nodiscard]] const Goal& goal() const { return whole_.model().goal(); }
  [[nodiscard]] const climate::WeatherSeasons& weather() const { return weather_; }
  [[nodiscard]] const ThermalSums& sums() const { return *sums_; }
  [[nodiscard]] const Futures& futures() const { return whole_.model().futures(); }
  [[nodiscard]] const Workers& workers() const { return workers_; }

  [[nodiscard]] Outlook& outlook(Look look) { return look == Look::rough ? rough_ : whole_; }
  [[nodiscard]] const Outlook& outlook(Look look) const { return look == Look::rough ? rough_ : whole_; }

  /// When it is sown, beside what is sown already: indexes into the thermal sums. None before anyone has chosen.
  [[nodiscard]] const std::vector<int>& sow_days() const { return sow_days_; }
  void sow_on(std::vector<int> days);
  [[nodiscard]] std::vector<Sowing> sowings(Look look);
  /// How sessions are held.
  [[nodiscard]] const BenchHabit& habit() const { return whole_.model().setting().habit; }
  /// In the rough look alone, to try it: before anything is changed they are to be held in the whole one too.
  void try_sessions(const BenchHabit& habit);
  void hold_sessions(const BenchHabit& habit);

  /// The smallest number of seeds sown then, and how wants share the seedlings: a rough look within 0.4 %, the whole
  /// one exactly.
  [[nodiscard]] SeedAnswer seeds_needed(Look look);
  /// How sure a number of seeds sown then is.
  [[nodiscard]] Assurance how_sure(int seeds, std::span<const double> shares, Look look,
                                   Precision precision = Precision::quick);
  /// When to sow, in the rough look. Says how much is done, 0 to 1.
  ///   comb  sowing dates tried before the finer look
  [[nodiscard]] Steps<double> sweep(SowingSweep& sweep, int comb = kComb);
  /// The day that makes the most of so many seeds.
  [[nodiscard]] int surest_day(int seeds);

 private:
  void hold_sessions_in(Outlook& outlook, const BenchHabit& habit);
  ///   before  of which what still holds is taken over; null: none
  [[nodiscard]] Setting setting_for(Goal goal, const BenchHabit& habit, const Setting* before = nullptr) const;

  Workers workers_;
  climate::WeatherSeasons weather_;
  std::shared_ptr<const ThermalSums> sums_;
  std::shared_ptr<const Observed> seen_;
  LearntFutures learnt_;  ///< of what was seen
  Outlook whole_;
  Outlook rough_;  ///< the same setting
  std::vector<int> sow_days_;
};

}  // namespace strikebed::season
