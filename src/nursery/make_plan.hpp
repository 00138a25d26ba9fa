#pragma once
// The use case "make a plan": from a goal file to its answer.
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "base/steps.hpp"
#include "base/workers.hpp"
#include "nursery/goal_weather.hpp"
#include "nursery/library.hpp"
#include "season/make_plan.hpp"

namespace strikebed::nursery {

inline constexpr int kMostSeeds = season::kMostSeeds;

struct PlanRequest {
  Text goal;
  std::optional<Text> weather;  ///< a record instead of the goal's own weather
  std::optional<int> seeds;     ///< how sure is this number, 1...kMostSeeds
  Date today;
  std::uint64_t random_seed = 1;
  Workers workers;                                              ///< the answer does not depend on their number
  std::function<void(double done, const char* what)> progress;  ///< may be empty
};

struct PlanAnswer {
  season::Goal goal;
  season::Plan plan;
  std::vector<std::string> assumed;  ///< one sentence for each thing the goal left open
  std::vector<std::string> remarks;  ///< on the goal and the weather record, a sentence each
};

/// A plan that is asked for again and again, as one changes the goal: what a change does not touch stays warm.
class Planner {
 public:
  /// The library must outlive it.
  explicit Planner(const Library& library) : library_(library) {}

  /// Takes the goal as it is written now. Errors are those of make_plan; what was asked before then stays.
  [[nodiscard]] std::optional<Error> ask(const PlanRequest& request);
  /// Works out the plan of what was asked, step by step; only after ask() found nothing wrong, and until it is called
  /// again.
  [[nodiscard]] Steps<season::PlanStep> work();
  /// As far as the steps have come: its plan says its stage.
  [[nodiscard]] const PlanAnswer& answer() const { return answer_; }

 private:
  const Library& library_;
  std::optional<GoalWeather> weather_;
  std::optional<season::Study> study_;
  std::uint64_t seed_ = 0;
  PlanAnswer answer_;
};

/// Reads the goal, and what it names from the library, and plans the season. What was repaired in the weather record is
/// among the remarks, in a few lines. A goal that cannot be met is an answer. Deterministic for a request and a
/// library. Errors: those of the goal file, the profiles and the weather record, with file, line and field.
[[nodiscard]] Result<PlanAnswer> make_plan(const PlanRequest& request, const Library& library);

}  // namespace strikebed::nursery
