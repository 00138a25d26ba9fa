#pragma once
// The use case "make a plan": from a goal file to its answer.
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/date.hpp"
#include "base/result.hpp"
#include "base/workers.hpp"
#include "nursery/library.hpp"
#include "season/goal.hpp"
#include "season/plan.hpp"

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

/// Reads the goal, and what it names from the library, and plans the season. What was repaired in the weather record is
/// among the remarks, in a few lines. A goal that cannot be met is an answer. Deterministic for a request and a
/// library. Errors: those of the goal file, the profiles and the weather record, with file, line and field.
[[nodiscard]] Result<PlanAnswer> make_plan(const PlanRequest& request, const Library& library);

}  // namespace strikebed::nursery
