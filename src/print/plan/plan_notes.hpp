#pragma once
// What reading a goal and its weather adds to a plan.
#include <string>
#include <vector>

namespace strikebed::print {

/// A sentence each, shown as they are.
struct PlanNotes {
  std::vector<std::string> assumed;  ///< what the goal left open, and where it was taken from
  std::vector<std::string> remarks;  ///< on what was read
};

}  // namespace strikebed::print
