#pragma once
// A goal with everything resolved: no file, no default and no unit is left to look up. Nursery fills it.
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "base/belief.hpp"
#include "base/date.hpp"
#include "climate/record.hpp"
#include "growth/rungs.hpp"
#include "growth/species.hpp"
#include "mix/medium.hpp"
#include "mix/solution.hpp"
#include "shelter/position.hpp"

namespace strikebed::season {

using growth::CountAt;
using growth::Rung;

/// So many plants of one base form, by one method.
struct Want {
  std::string base_form;
  int count = 0;  ///< >= 1
  growth::Method method;
  mix::MediumRequest set_in;                ///< one container with its medium and pockets
  std::optional<mix::SolutionRequest> dip;  ///< one filling of the vessel from the grower's stock, where it is named
  RateBelief take;                          ///< batch_spread always filled, here and in the goal's rates
  RateBelief grade;
  /// Whether it was said of this want or its method alone. If not, it is one rate, shared with all such wants: the same
  /// grower at the same bench.
  bool own_take = false;
  bool own_grade = false;
};

inline constexpr int kMostSeeds = 1'000'000;  ///< no search goes beyond
inline constexpr std::size_t kMostWants = 8;
inline constexpr int kMostSowings = 8;

/// When there is time at the bench, and how much.
struct Sessions {
  std::array<bool, 7> weekdays{true, true, true, true, true, true, true};  ///< Monday first
  std::optional<std::vector<Date>> dates;                                  ///< exactly these days instead of weekdays
  std::vector<Date> not_on;
  bool days_said = false;               ///< weekdays or dates were; if not, the plan chooses a rhythm
  std::optional<int> cuttings_at_most;  ///< struck in one session, >= 1; hours are already turned into cuttings
  int sowings_at_most = 1;              ///< 1...kMostSowings
};

/// Seed of one origin and year, and how it is made ready.
struct Lot {
  std::string name;    ///< by which its germination is drawn; empty where the grower gave it none
  int chill_days = 0;  ///< before sowing
  bool fresh = false;  ///< not dormant: not slowed for want of chilling
  std::optional<double> seeds_per_gram;
  bool operator==(const Lot&) const = default;
};

/// A sowing that is made whatever the plan says: it is in the bed already, or the grower has decided on it.
struct Sown {
  Date on;
  int seeds = 0;  ///< >= 1
  Lot lot;
  RateBelief germination;  ///< of the lot; batch_spread filled
};

struct Prices {  ///< any currency; nothing: not given
  std::optional<double> seed_per_gram;
  std::optional<double> container;
  std::optional<double> medium_per_litre;
  std::optional<double> sand_per_litre;
  std::optional<double> solution_per_litre;
  std::optional<double> hour;
};

struct Goal {
  growth::Species species;
  std::vector<Want> wants;  ///< 1...kMostWants
  Date today;
  Date by;
  CountAt count_at = CountAt::weaned;
  double assurance = 0.9;  ///< in (0, 1)
  climate::Site site;
  shelter::Position seedbed;
  shelter::Position bench;
  bool seedbed_lit = false;  ///< lamps: short days do not matter
  Lot lot;                   ///< of what the plan sows; what is believed of its germination stands in `rates`
  std::optional<Date> sow_not_before;
  std::optional<Date> sow_on;  ///< the grower has fixed the sowing date, or has sown already
  std::vector<Sown> sown;      ///< no two of one lot, chilled alike, on one day; what is planned comes on top
  double controls = 0;         ///< share of struck cuttings used up as controls
  double lifted = 0;           ///< share of struck cuttings lifted to look
  Date winter_starts;          ///< after `today`; the last one that is over by `by`, or else the next
  Date winter_ends;
  growth::PerRung<RateBelief> rates;  ///< that all wants share; those of a method stand in its want
  Sessions sessions;
  Prices prices;
  std::optional<int> seeds_in_hand;  ///< --seeds: how sure is this number

  /// In the sowings that are made whatever the plan says.
  [[nodiscard]] int own_seeds() const {
    int seeds = 0;
    for (const Sown& one : sown) seeds += one.seeds;
    return seeds;
  }
  [[nodiscard]] double seeds_per_gram(const Lot& of) const {
    return of.seeds_per_gram.value_or(species.seeds_per_gram.typical());
  }
  /// Days in the cold after which its germination is no faster for more.
  [[nodiscard]] double full_chilling(const Lot& of) const { return of.fresh ? 0 : species.chill_days.typical(); }
  /// Whether plants are counted late enough for a rung to matter.
  [[nodiscard]] bool reaches(Rung rung) const { return growth::applies(rung, count_at); }
  /// When what is counted must have rooted, and have been weaned where that counts: the winter's beginning, where it is
  /// to be lived through, or the goal's date.
  [[nodiscard]] Date ready_by() const { return reaches(Rung::winter) ? winter_starts : by; }
  /// Whether plants may live through winter before they are counted: to be established, or for the goal's date.
  [[nodiscard]] bool may_meet_winter() const { return reaches(Rung::winter) || winter_ends <= by; }
  /// Whether a rung may matter.
  [[nodiscard]] bool matters(Rung rung) const { return reaches(rung) || (rung == Rung::winter && may_meet_winter()); }
  /// The goal's date comes before the winter is over that a plant must have behind it to be established.
  [[nodiscard]] bool is_before_winter_ends() const { return reaches(Rung::winter) && by < winter_ends; }
};

/// What is believed of a rung for one of the wants of a goal, constant or not.
[[nodiscard]] auto& belief_of(auto& goal, Rung rung, std::size_t want) {
  if (!growth::row_of(rung).is_of_method()) return goal.rates[rung];
  return rung == Rung::take ? goal.wants[want].take : goal.wants[want].grade;
}

}  // namespace strikebed::season
