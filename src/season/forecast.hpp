#pragma once
// Will there be enough: the futures of a goal given what was seen of it. docs/methods/forecast.md
#include <optional>
#include <string>
#include <vector>

#include "season/foreseen.hpp"
#include "season/observed.hpp"
#include "season/plan.hpp"
#include "season/study.hpp"

namespace strikebed::season {

/// How many plants of one want will be counted: in each future a count of this mean and variance.
class CountForecast {
 public:
  CountForecast(std::vector<double> mean, std::vector<double> variance, std::vector<double> weight);
  [[nodiscard]] double chance_at_least(int plants) const;
  [[nodiscard]] double mean() const;
  /// The least number of plants that is not exceeded with a chance p, in (0, 1).
  [[nodiscard]] int point(double p) const;

 private:
  std::vector<double> mean_, variance_, weight_;  ///< [future]; weights sum to 1
};

/// 5, 25, 50, 75 and 95 % points.
struct PlantRange {
  int p05 = 0, p25 = 0, p50 = 0, p75 = 0, p95 = 0;
  bool operator==(const PlantRange&) const = default;
};

struct WantForecast {
  std::string base_form;
  int wanted = 0;
  PlantRange plants;   ///< with what is sown and struck already, and no more
  double chance = 0;   ///< of as many as are wanted, of this want alone
  double in_pots = 0;  ///< of these, from what is struck already: the mean
  bool operator==(const WantForecast&) const = default;
};

/// What was believed of a quantity, and what is now.
struct Learned {
  ChainQuantity quantity{};
  std::optional<std::size_t> want;
  std::string lot;
  Spread before, now;
  bool operator==(const Learned&) const = default;
};

struct Forecast {
  double assurance = 0;  ///< that all wants are met, with what is sown and struck already
  double assurance_error = 0;
  bool met = false;
  std::vector<WantForecast> wants;
  std::vector<SessionForecast> sessions;  ///< those at which something is to be expected
  std::vector<Learned> learned;           ///< what the chain does not know for certain
  int futures = 0;
  double effective_futures = 0;  ///< as many of equal weight would tell as much
  bool operator==(const Forecast&) const = default;
};

/// From what is sown and struck already, and no more.
///   study  of the goal, with what was seen
[[nodiscard]] Forecast forecast_of(Study& study);
/// How many of a want will be counted, in the study's futures.
[[nodiscard]] CountForecast counts_of(Study& study, std::size_t want);

}  // namespace strikebed::season
