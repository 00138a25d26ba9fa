#pragma once
// The days on which a session can be held, and how ripe to let seedlings get before they are struck.
#include <array>
#include <vector>

#include "season/goal.hpp"
#include "season/thermal_sums.hpp"

namespace strikebed::season {

/// The session days of a season, and the strike rule. A seedling's place in its window runs from 0 as it opens to 1 as
/// it closes. It is struck at the first session at which it has opened and the mean of its places there and at the
/// next session is at least strike_from, or its window will have closed by then; at the last, whenever it has opened.
struct SessionDays {
  std::vector<int> day;            ///< of each session, as an index into the thermal sums; ascending
  std::vector<float> strike_from;  ///< [session], 0...1; 0.5: at the session nearest to the middle of its window
  [[nodiscard]] int count() const { return static_cast<int>(day.size()); }
};

/// How long to let seedlings ripen: 1, until it pays a seedling no more to wait; 0, not at all, so that no place at the
/// bench is left empty.
inline constexpr double kMostPatience = 1;
/// Those that are tried where room is short.
inline constexpr std::array kPatience{kMostPatience, 0.5, 0.0};

/// How often to hold sessions where the grower has not said on which days; those of a week are Saturdays, and two a
/// week are Wednesdays and Saturdays. Seldom first.
enum class Rhythm { four_weeks, three_weeks, two_weeks, week, half_week, day };
inline constexpr std::array kRhythms{Rhythm::four_weeks, Rhythm::three_weeks, Rhythm::two_weeks,
                                     Rhythm::week,       Rhythm::half_week,   Rhythm::day};
[[nodiscard]] bool falls_on(Rhythm rhythm, Date date);

/// What a plan chooses of the ways at the bench.
struct BenchHabit {
  Rhythm rhythm = Rhythm::day;  ///< where the goal says no days
  double patience = kMostPatience;
  bool operator==(const BenchHabit&) const = default;
};

/// The days that the goal allows and on which what is struck could root, and be weaned where that counts, before the
/// goal's date, in any of the seasons.
[[nodiscard]] SessionDays session_days(const Goal& goal, const ThermalSums& sums, const BenchHabit& habit = {});

/// The same days with another patience.
[[nodiscard]] SessionDays with_patience(SessionDays sessions, const Goal& goal, const ThermalSums& sums,
                                        double patience);

}  // namespace strikebed::season
