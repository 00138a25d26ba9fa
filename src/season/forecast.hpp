#pragma once
// Will there be enough: the futures of a goal given what was seen of it. docs/methods/forecast.md
#include <optional>
#include <string>
#include <vector>

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

/// A session to come, if everything ripe is struck for which there is room.
struct SessionForecast {
  Date date;
  Spread ready;  ///< good ones that have come into their window by then and were not struck before
  Spread struck;
  bool operator==(const SessionForecast&) const = default;
};

/// What was believed of a quantity, and what is now.
struct Learned {
  ChainQuantity quantity{};
  std::optional<std::size_t> want;
  std::string lot;
  Spread before, now;
  bool operator==(const Learned&) const = default;
};

/// What can still be done, alone, and how sure the goal would be then.
enum class StepKind {
  nothing,       ///< on top of what is sown and struck
  sow,           ///< `seeds` more on `date`
  strike_more,   ///< room for all that are ripe, at every session
  more_sessions  ///< on every day
};
struct StillPossible {
  StepKind kind{};
  Date date = {};
  int seeds = 0;
  double assurance = 0;
  double more_plants = 0;  ///< on the mean, all wants together
  bool operator==(const StillPossible&) const = default;
};

struct Forecast {
  double assurance = 0;  ///< that all wants are met, with what is sown and struck already
  double assurance_error = 0;
  bool met = false;
  std::vector<WantForecast> wants;
  std::vector<SessionForecast> sessions;  ///< those at which something is to be expected
  std::vector<Learned> learned;           ///< what the chain does not know for certain
  std::vector<StillPossible> possible;    ///< `nothing` first
  std::optional<Date> last_sowing;        ///< that would still help; nothing: none would
  int futures = 0;
  double effective_futures = 0;  ///< as many of equal weight would tell as much
  bool operator==(const Forecast&) const = default;
};

/// What is already there: the number, sessions and what was learnt.
///   study  of the goal, with what was seen
[[nodiscard]] Forecast forecast_of(Study& study);
/// And what can still be done about it. Looks at sowing days, room and session days, one after the other.
void look_for_steps(Study& study, Forecast& forecast);

/// How many of a want will be counted, in the study's futures.
[[nodiscard]] CountForecast counts_of(Study& study, std::size_t want);

}  // namespace strikebed::season
