#pragma once
// The smallest number of seeds, and how wants share the seedlings.
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "season/model.hpp"

namespace strikebed::season {

inline constexpr int kSensiblePerPlant = 200;

/// As many seeds as anyone would sow for a goal: 200 for every plant wanted, at least 2,000. What needs more is out of
/// reach, and how sure that is at best is said for so many.
[[nodiscard]] int sensible_seeds(const Goal& goal);

/// The smallest n in 1...limit with chance(n) >= target, for a chance that does not fall with n; nothing when even
/// chance(limit) is short.
///   start      where to look first
///   tolerance  relative; 0: the exact whole number, else some number within this of it that is enough
[[nodiscard]] std::optional<int> smallest_seeds(const std::function<double(int)>& chance, double target, int start,
                                                int limit, double tolerance);

/// How hard each want is: the logarithm of seeds that it would need alone at a level of sureness, and its slope in
/// normal scores of that level.
struct FairShares {
  std::vector<double> shares;
  std::vector<double> log_seeds_per_score;
  double seeds = 0;  ///< a first guess of all seeds needed
};

/// Shares that make every want about equally sure at `level`, judged as if there were always room. `seeds` come on top
/// of the goal's own.
[[nodiscard]] FairShares fair_shares(const Model& model, std::span<const Sowing> sowings, double level);

/// Seeds for a sowing plan, with shares made fair at the answer.
struct SeedAnswer {
  std::optional<int> seeds;  ///< nothing: out of reach; 0: the goal's own sowings are enough
  std::vector<double> shares;
  double best_chance = 0;  ///< when out of reach: with sensible_seeds; else the target
};
///   precision  exact: the exact whole number, with shares adjusted at the bench's own limits; quick: within 0.4 %,
///   with
///              shares as fair_shares has them
[[nodiscard]] SeedAnswer seeds_for(const Model& model, std::span<const Sowing> sowings, double target, int limit,
                                   Precision precision);

/// Quick, with shares given and a guess of the answer.
[[nodiscard]] std::optional<int> seeds_for(const Model& model, std::span<const Sowing> sowings, double target,
                                           std::span<const double> shares, int start, int limit);

}  // namespace strikebed::season
